// What the sender leaves out of a report, group by group, and the paper of its PDF; what is left out is said in the report.
import list from "@catalogue/groups.json";
import { useLive } from "../../store/live.ts";
import { BigChoice, Chips } from "../../ui/choices.tsx";
import { piecesOf } from "./own_bundle.ts";
import type { Paper } from "./paper.ts";
import type { Subject } from "./reports.ts";

const PAPERS = [{ value: "a4", label: "A4" }, { value: "letter", label: "US Letter" }] as const;

export interface LeftOutProps {
  subject: Subject;
  hidden: readonly string[];
  onHidden: (hidden: readonly string[]) => void;
  paper: Paper;
  onPaper: (paper: Paper) => void;
}

export function LeftOut({ subject, hidden, onHidden, paper, onPaper }: LeftOutProps) {
  const kinds = useLive(async (store) => (await piecesOf(store, subject)).map(({ values }) => values["kind"] as string), [subject.session, subject.piece]);
  const several = new Set(kinds).size > 1;
  const options = list.groups
    .filter(({ kind }) => kinds?.includes(kind))
    .map(({ id, kind, title }) => ({ value: id, label: several ? `${title} (${kind})` : title }));
  const toggle = (id: string) => onHidden(hidden.includes(id) ? hidden.filter((one) => one !== id) : [...hidden, id]);
  return (
    <details class="fold">
      <summary><span class="grow">Leave a part out, paper of the PDF</span>{hidden.length > 0 && <span class="soft">{hidden.length} left out</span>}</summary>
      <div class="inside stack">
        <p>Photos, figures and remarks of a part you tap are left out, and the report says so in plain sight. Its faults stay, and the verdict counts them. One photo alone is left out at the photo itself.</p>
        <Chips legend="Leave out" options={options} chosen={hidden} onToggle={toggle} />
        <BigChoice legend="Paper of the PDF" options={PAPERS} value={paper} onChoose={onPaper} />
      </div>
    </details>
  );
}
