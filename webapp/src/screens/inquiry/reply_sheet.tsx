// A whole reply pasted at once: shared out by its numbers, kept at once, then each answer is weighed by itself.
import { useState } from "preact/hooks";
import { splitReply } from "../../domain/inquiry.ts";
import { Button } from "../../ui/button.tsx";
import { TextField } from "../../ui/field.tsx";
import { Note } from "../../ui/notes.tsx";
import { Sheet } from "../../ui/sheet.tsx";
import { today } from "../visit/today.ts";

export type Replies = Readonly<Record<string, { words: string; day?: string }>>;

/** Under this name stands what belongs to no question. */
export const LOOSE = "loose";
const MOST = 2000;

/** What was said before of a question stays above what is said now. */
export function sharedOut(text: string, asked: readonly string[], before: Replies, day: string): { replies: Replies; tooLong: number[] } {
  const replies: Record<string, { words: string; day?: string }> = { ...before };
  const tooLong: number[] = [];
  for (const { number, words } of splitReply(text, asked.length)) {
    const id = number === null ? LOOSE : asked[number - 1]!;
    const old = replies[id]?.words;
    const joined = old && old !== words ? `${old}\n${words}` : words;
    if ([...joined].length > MOST) tooLong.push(number ?? 0);
    replies[id] = { words: joined, day };
  }
  return { replies, tooLong };
}

export function ReplySheet({ asked, before, onKeep, onClose }: { asked: readonly string[]; before: Replies; onKeep: (replies: Replies) => void; onClose: () => void }) {
  const [text, setText] = useState("");
  const [wrong, setWrong] = useState<string | null>(null);
  const parts = splitReply(text, asked.length);
  const numbered = parts.filter(({ number }) => number !== null).length;
  const keep = () => {
    const { replies, tooLong } = sharedOut(text, asked, before, today());
    if (parts.length === 0) return setWrong("Paste or type their reply first.");
    if (tooLong.length > 0) return setWrong(`${tooLong[0] === 0 ? "The part without a number" : `Answer ${tooLong[0]}`} is longer than ${MOST} letters: shorten it and keep the rest in their mail.`);
    onKeep(replies);
  };
  return (
    <Sheet title="Their reply" onClose={onClose}>
      <TextField label="Paste it, or type line by line (private)" hint="Lines that begin with a number go to that question." lines value={text} max={20000} onInput={(typed) => { setText(typed); setWrong(null); }} />
      {parts.length > 0 && (
        <Note tone="tell">
          <p>{numbered === 0 ? "No numbers found: it is kept beside the questions, for you to share out." : `${numbered} of ${asked.length} questions have words here.`}</p>
        </Note>
      )}
      {wrong && <p role="alert" class="wrong">{wrong}</p>}
      <Button kind="strong" wide onClick={keep}>Keep the reply</Button>
    </Sheet>
  );
}
