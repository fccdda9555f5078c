// A set of many holders: three may stand for it, and the report says how many were not looked at.
import { useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import type { VisitView } from "./view.ts";

/** As many as a short pass leaves time for. */
const SAMPLE = 3;

export function SampleChoice({ view }: { view: VisitView }) {
  const store = useStore();
  const { visit, piece } = view;
  const count = (piece.values["holders"]?.count as number | undefined) ?? 1;
  if (piece.values["kind"] !== "holders" || count <= SAMPLE) return null;
  const saved = (visit.values["sample"] ?? null) as { looked: number; of: number } | null;
  const save = (sample: object | null) => {
    store.set("visit", visit.id, { sample }).catch((error: unknown) => tellFailure(error, () => save(sample)));
  };
  return (
    <Button wide pressed={saved !== null} onClick={() => save(saved ? null : { looked: SAMPLE, of: count, how: "worst-looking first" })}>
      {saved ? `Sample: ${saved.looked} of ${saved.of}, worst-looking first` : `Short of time: look at ${SAMPLE} of ${count}, worst-looking first`}
    </Button>
  );
}
