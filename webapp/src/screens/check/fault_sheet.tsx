// Asks which fault it is; one possible fault is never asked for.
import { useState } from "preact/hooks";
import { Button } from "../../ui/button.tsx";
import { Chips } from "../../ui/choices.tsx";
import { Sheet } from "../../ui/sheet.tsx";

export interface FaultSheetProps {
  faults: readonly { id: string; title: string }[];
  already: readonly string[];
  onDone: (faults: string[]) => void;
  onClose: () => void;
}

export function FaultSheet({ faults, already, onDone, onClose }: FaultSheetProps) {
  const [chosen, setChosen] = useState<readonly string[]>(already);
  const toggle = (fault: string) => setChosen(chosen.includes(fault) ? chosen.filter((one) => one !== fault) : [...chosen, fault]);
  return (
    <Sheet title="What is wrong?" onClose={onClose}>
      <Chips legend="One or more" options={faults.map((fault) => ({ value: fault.id, label: fault.title }))} chosen={chosen} onToggle={toggle} />
      <Button kind="strong" wide disabled={chosen.length === 0} onClick={() => onDone([...chosen])}>
        {chosen.length === 0 ? "Tap what you see" : "That is it"}
      </Button>
    </Sheet>
  );
}
