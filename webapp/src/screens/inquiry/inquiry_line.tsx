// On the piece's screen: the way to ask its seller, how many answers came, and how long it may still go back.
import { Button } from "../../ui/button.tsx";
import { address } from "../../ui/route.ts";
import type { VisitView } from "../visit/view.ts";
import { ReturnNote } from "./arrival.tsx";
import { useInquiry } from "./use_inquiry.ts";

/** Nothing at a table where nobody asked from afar. */
export function InquiryLine({ view }: { view: VisitView }) {
  const session = (view.visit.values["session"] as string | null | undefined) ?? null;
  const inquiry = useInquiry(session, view.piece.id);
  const asked = inquiry?.record?.values["asked"]?.questions?.length as number | undefined;
  const unpacking = view.visit.values["occasion"] === "unpacking";
  if (!inquiry || !(inquiry.record || view.session?.values["remote"] || (unpacking && view.claims.length > 0))) return null;
  return (
    <>
      <ReturnNote until={inquiry.record?.values["return_until"]} />
      {unpacking && view.claims.length > 0 && <Button wide icon="box" href={address("/visit", view.visit.id, "/unpacking")}>Unpack it: claims first</Button>}
      <Button wide icon="list" href={address("/visit", view.visit.id, "/inquiry")}>{asked ? `Asked the seller ${asked === 1 ? "1 question" : `${asked} questions`}` : "Ask the seller"}</Button>
    </>
  );
}
