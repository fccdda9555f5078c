// Stands where a result will, while too little is typed or something cannot be.
import { Note } from "../../ui/notes.tsx";

export function NotYet({ wrong, words }: { wrong?: string; words: string }) {
  return <Note tone={wrong ? "care" : "tell"}><p>{wrong ?? words}</p></Note>;
}
