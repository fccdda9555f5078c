// Asking a distant seller: a short list to send, their answers as dated claims, and until when the piece may go back.
import { openKeys, questionList } from "../../domain/inquiry.ts";
import { useStore } from "../../store/live.ts";
import { Note, Waiting } from "../../ui/notes.tsx";
import { address } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { useReckoned } from "../deal/use_deal.ts";
import { Versions } from "../history/versions.tsx";
import { Missing } from "../visit/missing.tsx";
import { pieceTitle } from "../visit/piece_title.ts";
import { today } from "../visit/today.ts";
import { useVisit, type ReadyVisit } from "../visit/use_visit.ts";
import { plain } from "../visit/view.ts";
import { dayWords } from "../visit/words.ts";
import { Answers } from "./answers.tsx";
import { Arrival, ReturnNote } from "./arrival.tsx";
import { AskList } from "./ask_list.tsx";
import "./inquiry.css";
import { askedRows, moreQuestions, useInquiry, useQuestions } from "./use_inquiry.ts";

export default function Inquiry({ params }: ScreenInput) {
  const ready = useVisit(params["visit"]!);
  if (ready === null) return <Missing />;
  return ready ? <ReadyInquiry ready={ready} /> : <Waiting />;
}

function ReadyInquiry({ ready: { view, catalogue } }: { ready: ReadyVisit }) {
  const store = useStore();
  const session = (view.visit.values["session"] as string | null | undefined) ?? null;
  const inquiry = useInquiry(session, view.piece.id);
  const data = useQuestions();
  const deal = useReckoned(view, catalogue);
  if (!inquiry || !data) return <Waiting />;

  const piece = plain(view.piece);
  const put = (fields: Record<string, unknown>) => {
    store.set("inquiry", inquiry.id, { ...(!inquiry.record && { piece: piece.id, session }), ...fields }).catch((error: unknown) => tellFailure(error, () => put(fields)));
  };
  const asked = inquiry.record?.values["asked"] as { language: string; questions: string[]; day?: string } | undefined;
  const rows = questionList(piece, inquiry.answers, deal?.sheet.checking ?? [], catalogue, data.questions);
  const list = (
    <AskList key={asked?.day ?? ""} rows={rows} more={moreQuestions(data, piece, inquiry.answers, catalogue)} currency={deal?.currency ?? null} data={data} language={asked?.language ?? "en"}
      onAsked={(questions, language) => put({ asked: { language, questions, day: today() } })} />
  );
  const standings = askedRows(inquiry, piece, catalogue, data);
  const open = openKeys(standings.map(({ question, key, standing }) => ({ question: question.id, key, standing })));
  const languageTitle = data.languages.find(({ id }) => id === asked?.language)?.title ?? "";
  return (
    <Screen title="Ask the seller" over={pieceTitle(view.piece)} back={address("/visit", view.visit.id)} backWord="Back to the piece" keepPlace={`inquiry ${view.visit.id}`}>
      <ReturnNote until={inquiry.record?.values["return_until"]} />
      {!asked && <p>The few questions that tell most, most worth first. A seller who knows nothing about cameras can answer them; “I do not know” is a fair answer.</p>}
      {!asked && list}
      {inquiry.record && <Versions record={inquiry.record.id} fields={["asked", "returns", "replies", "deleted"]} />}
      {asked && <p class="soft">{standings.length === 1 ? "1 question" : `${standings.length} questions`} in {languageTitle}, {asked.day ? `asked on ${dayWords(asked.day)}` : "asked"}.</p>}
      {asked && open.length > 0 && (
        <Note tone="care" title="Price it as not working">
          <p>No answer that counts to: {standings.filter(({ question }) => open.includes(question.id)).map(({ question }) => question.title.toLowerCase()).join("; ")}. Keep the full reserve for all that was not seen.</p>
          <p><a href={address("/visit", view.visit.id, "/deal")}>Deal sheet</a></p>
        </Note>
      )}
      {asked && <Answers view={inquiry} rows={standings} piece={piece} visit={view.visit.id} catalogue={catalogue} put={put} />}
      {asked && <details class="fold"><summary><span class="grow">Ask more, or again</span></summary><div class="inside stack">{list}</div></details>}
      <Arrival key={inquiry.id} view={inquiry} visit={view.visit.id} put={put} />
    </Screen>
  );
}
