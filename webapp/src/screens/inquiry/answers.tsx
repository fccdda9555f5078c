// The questions that were asked, how each stands, and the way to note its answer.
import { useState } from "preact/hooks";
import type { Catalogue } from "../../domain/catalogue.ts";
import type { Standing } from "../../domain/inquiry.ts";
import { Button } from "../../ui/button.tsx";
import { Mark, type Tone } from "../../ui/mark.tsx";
import { Note } from "../../ui/notes.tsx";
import type { Plain } from "../visit/view.ts";
import { AnswerSheet } from "./answer_sheet.tsx";
import { LOOSE, type Replies, ReplySheet } from "./reply_sheet.tsx";
import { ReturnsSheet, type SaidReturns } from "./returns_sheet.tsx";
import { type AskedRow, checksOf, type InquiryView } from "./use_inquiry.ts";

const SIGNS: Record<Standing, { tone: Tone; word: string }> = {
  answered: { tone: "good", word: "Answered" },
  no_proof: { tone: "unsure", word: "Claimed, nothing shown" },
  does_not_know: { tone: "unsure", word: "They do not know" },
  waiting: { tone: "none", word: "No answer yet" },
};

export interface AnswersProps { view: InquiryView; rows: readonly AskedRow[]; piece: Plain; visit: string; catalogue: Catalogue; put: (fields: Record<string, unknown>) => void }

export function Answers({ view, rows, piece, visit, catalogue, put }: AnswersProps) {
  const [open, setOpen] = useState<string | null>(null);
  const [pasting, setPasting] = useState(false);
  const replies = (view.record?.values["replies"] ?? {}) as Replies;
  const returns = (view.record?.values["returns"] ?? null) as SaidReturns | null;
  const row = rows.find(({ question }) => question.id === open);
  const close = () => setOpen(null);
  return (
    <section class="stack tight" aria-labelledby="answers">
      <h2 id="answers">Their answers</h2>
      <Button wide icon="copy" onClick={() => setPasting(true)}>Paste or type their reply</Button>
      {replies[LOOSE] && (
        <Note tone="tell" title="Said under no number">
          <p class="said">{replies[LOOSE].words}</p>
          <Button onClick={() => put({ replies: without(replies, LOOSE) })}>Dealt with</Button>
        </Note>
      )}
      <ol class="lines">
        {rows.map(({ question, standing }, index) => (
          <li key={question.id} class="line answer">
            <span class="figures">{index + 1}.</span>
            <span class="told">
              <span class="name">{question.title}</span>
              <span class="under"><Mark {...SIGNS[standing]} hollow={standing === "waiting"} /></span>
              {replies[question.id] && <span class="under said">{replies[question.id]!.words}</span>}
            </span>
            <Button label={`Note the answer: ${question.title}`} onClick={() => setOpen(question.id)}>Answer</Button>
          </li>
        ))}
      </ol>
      {row && row.question.about === "sale" && (
        <ReturnsSheet saved={returns} words={replies[row.question.id]?.words ?? ""} onClose={close} onSave={(said) => { put({ returns: said }); close(); }} />
      )}
      {row && row.question.about === "piece" && (
        <AnswerSheet question={row.question} checks={checksOf(row.question, piece, catalogue)} piece={piece.id} visit={visit} catalogue={catalogue} words={replies[row.question.id]?.words ?? ""} onClose={close} />
      )}
      {pasting && <ReplySheet asked={rows.map(({ question }) => question.id)} before={replies} onClose={() => setPasting(false)} onKeep={(kept) => { put({ replies: kept }); setPasting(false); }} />}
    </section>
  );
}

const without = (replies: Replies, id: string): Replies => Object.fromEntries(Object.entries(replies).filter(([name]) => name !== id));
