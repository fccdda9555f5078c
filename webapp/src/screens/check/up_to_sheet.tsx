// "Cannot tell" may still be good up to a marked speed, which keeps the verdict's range.
import { BigChoice } from "../../ui/choices.tsx";
import { Sheet } from "../../ui/sheet.tsx";
import { speedWords } from "../visit/words.ts";

export interface SpeedMark { text: string; seconds: number | null }

export interface UpToSheetProps {
  /** Marked speeds, slow to fast. */
  marks: readonly SpeedMark[];
  onDone: (upTo: SpeedMark | null) => void;
  onClose: () => void;
}

const NOTHING = "nothing";

export function UpToSheet({ marks, onDone, onClose }: UpToSheetProps) {
  const options = [
    { value: NOTHING, label: "I cannot tell at all", hint: "Counts as not looked at" },
    ...marks.map((mark) => ({ value: mark.text, label: `Good up to ${speedWords(mark.text)}` })),
  ];
  return (
    <Sheet title="Good up to where?" onClose={onClose}>
      <BigChoice legend="Fastest speed you can vouch for" options={options} onChoose={(value) => onDone(marks.find((mark) => mark.text === value) ?? null)} />
    </Sheet>
  );
}
