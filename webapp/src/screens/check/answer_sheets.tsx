// The one question an outcome may need, in a sheet: which fault, why not, up to where, why left out, on whose word.
import type { Catalogue, Check } from "../../domain/catalogue.ts";
import type { Result } from "../../domain/checks.ts";
import { outcomeSign } from "../visit/words.ts";
import type { Plain } from "../visit/view.ts";
import { ClaimSheet } from "./claim_sheet.tsx";
import { FaultSheet } from "./fault_sheet.tsx";
import { LeaveOutSheet, NotCheckedSheet } from "./reason_sheet.tsx";
import { UpToSheet, type SpeedMark } from "./up_to_sheet.tsx";
import type { useAnswering } from "./use_answering.ts";

export interface AnswerSheetsProps {
  answering: ReturnType<typeof useAnswering>;
  check: Check;
  piece: Plain;
  result: Result | undefined;
  catalogue: Catalogue;
}

export function AnswerSheets({ answering, check, piece, result, catalogue }: AnswerSheetsProps) {
  const { question, settle, claim, close } = answering;
  const { faults } = check;
  const marks = (piece["speeds"]?.marks ?? []) as SpeedMark[];
  switch (question?.ask) {
    case "faults":
      return <FaultSheet faults={faults} already={result?.faults ?? []} onDone={(chosen) => settle({ outcome: "faulty", faults: chosen })} onClose={close} />;
    case "reason":
      return <NotCheckedSheet reasons={catalogue.terms.not_checked_reasons} already={result} onDone={(why) => settle({ outcome: "not_checked", ...why })} onClose={close} />;
    case "up_to":
      return <UpToSheet marks={marks} onDone={(upTo) => settle({ outcome: "cannot_tell", good_up_to: upTo })} onClose={close} />;
    case "leave_out":
      return <LeaveOutSheet onDone={(text) => settle({ outcome: "does_not_apply", reason_text: text })} onClose={close} />;
    case "claim": {
      const { outcome } = question;
      const kinds = catalogue.terms.evidence_kinds.filter((kind) => kind.id !== "seen");
      return <ClaimSheet claimed={outcomeSign(outcome).word} faults={outcome === "faulty" ? faults : []} evidence={kinds} onDone={(words) => claim(outcome, words)} onClose={close} />;
    }
    default:
      return null;
  }
}
