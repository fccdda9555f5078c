// Which questions go out, in which language: most worth first, the buyer's own words beside each; copied or shared as one letter.
import { useState } from "preact/hooks";
import type { Question, Questions } from "../../domain/catalogue.ts";
import type { AskRow } from "../../domain/inquiry.ts";
import { showMoney } from "../../domain/money.ts";
import { shareText } from "../../device/share.ts";
import { Button } from "../../ui/button.tsx";
import { PickField } from "../../ui/field.tsx";
import { showToast } from "../../ui/toast.tsx";
import { firstChoice, letterText, ownLanguage } from "./letter.ts";

export interface AskListProps {
  rows: readonly AskRow[];
  /** About single checks, beyond the short list. */
  more: readonly Question[];
  /** Of `worth_minor`. */
  currency: string | null;
  data: Questions;
  language: string;
  onAsked: (questions: string[], language: string) => void;
}

export function AskList({ rows, more, currency, data, language: first, onAsked }: AskListProps) {
  const [language, setLanguage] = useState(first);
  const [own, setOwn] = useState(() => ownLanguage(data, navigator.language));
  const [both, setBoth] = useState(false);
  const listed = rows.flatMap((row) => { const question = data.questions.find(({ id }) => id === row.question); return question ? [{ row, question }] : []; });
  const [chosen, setChosen] = useState<readonly string[] | null>(null);
  const ticked = chosen ?? firstChoice(listed.map(({ question }) => ({ question: question.id, key: question.key })));
  const order = [...listed.map(({ question }) => question.id), ...more.map(({ id }) => id)].filter((id) => ticked.includes(id));
  const flip = (id: string) => setChosen(ticked.includes(id) ? ticked.filter((one) => one !== id) : [...ticked, id]);
  const options = data.languages.map((one) => ({ value: one.id, label: one.own_name === one.title ? one.title : `${one.own_name} (${one.title})` }));
  const unread = [...new Set([language, own])].flatMap((id) => data.languages.find((one) => one.id === id && one.review === "not_reviewed")?.title ?? []);

  const text = () => letterText(order, language, both ? own : null, data);
  const copy = () => {
    navigator.clipboard.writeText(text()).then(
      () => { onAsked(order, language); showToast({ words: "Questions copied" }); },
      () => showToast({ words: "The phone did not let it be copied: share it instead.", failed: true }),
    );
  };
  const share = () => {
    shareText("Questions", text()).then((how) => {
      if (how === "stopped") return;
      onAsked(order, language);
      if (how === "copied") showToast({ words: "Questions copied: this browser cannot share" });
    }, copy);
  };

  return (
    <div class="stack">
      <PickField label="The seller reads" value={language} options={options} onPick={setLanguage} />
      <PickField label="You read" value={own} options={options} onPick={setOwn} />
      {unread.length > 0 && <p class="soft small">{unread.join(" and ")}: not reviewed by a native speaker. Send your own words along if you doubt them.</p>}
      <ul class="ask-list">
        {listed.map(({ row, question }) => <AskLine key={question.id} row={row} question={question} language={language} own={own} currency={currency} ticked={ticked.includes(question.id)} onFlip={() => flip(question.id)} />)}
      </ul>
      {more.length > 0 && (
        <details class="fold">
          <summary><span class="grow">More questions</span><span class="soft small figures">{more.length}</span></summary>
          <ul class="inside ask-list">
            {more.map((question) => <AskLine key={question.id} row={{ question: question.id, checks: [question.id], worth_minor: null }} question={question} language={language} own={own} currency={null} ticked={ticked.includes(question.id)} onFlip={() => flip(question.id)} />)}
          </ul>
        </details>
      )}
      {own !== language && <Button pressed={both} onClick={() => setBoth(!both)}>Send my own language along</Button>}
      <Button kind="strong" wide icon="copy" disabled={order.length === 0} onClick={copy}>{order.length === 0 ? "Pick a question" : order.length === 1 ? "Copy 1 question" : `Copy ${order.length} questions`}</Button>
      <Button wide icon="share" disabled={order.length === 0} onClick={share}>Share them</Button>
    </div>
  );
}

interface AskLineProps { row: AskRow; question: Question; language: string; own: string; currency: string | null; ticked: boolean; onFlip: () => void }

function AskLine({ row, question, language, own, currency, ticked, onFlip }: AskLineProps) {
  const worth = row.worth_minor !== null && row.worth_minor > 0 && currency ? `Worth at least ${showMoney({ minor: row.worth_minor, currency })} to know` : null;
  return (
    <li>
      <label class="ask-line">
        <input type="checkbox" checked={ticked} onChange={onFlip} />
        <span class="stack tight">
          <span class="name">{question.title}{question.key && <span class="soft small"> · key question</span>}</span>
          <span lang={language}>{question.say[language]}</span>
          {own !== language && <span class="soft small" lang={own}>{question.say[own]}</span>}
          {(worth || question.hint) && <span class="soft small">{worth ? `${worth}. ${question.hint}` : question.hint}</span>}
        </span>
      </label>
    </li>
  );
}
