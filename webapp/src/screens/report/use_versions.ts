// The versions made so far, asked from the server when the screen opens and after each change.
import { useEffect, useState } from "preact/hooks";
import { listVersions, type Problem, type Subject } from "./reports.ts";
import type { Version } from "./version_list.tsx";

export interface Versions { versions: readonly Version[] | null; trouble: Problem | null; reload: () => void }

export function useVersions(subject: Subject): Versions {
  const [versions, setVersions] = useState<readonly Version[] | null>(null);
  const [trouble, setTrouble] = useState<Problem | null>(null);
  const [turn, setTurn] = useState(0);
  useEffect(() => {
    let wanted = true;
    void listVersions(subject).then((answer) => {
      if (!wanted) return;
      if ("todo" in answer) setTrouble(answer);
      else {
        setTrouble(null);
        setVersions(answer);
      }
    });
    return () => { wanted = false; };
  }, [subject.session, subject.piece, turn]);
  return { versions, trouble, reload: () => setTurn(turn + 1) };
}
