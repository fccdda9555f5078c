// The condition report of one piece or a whole session: made by the server, shared by link, ended at will.
import { useLayoutEffect, useRef, useState } from "preact/hooks";
import { useLive, useStore } from "../../store/live.ts";
import type { Step } from "../../sync/server.ts";
import { status } from "../../sync/engine.ts";
import { Button } from "../../ui/button.tsx";
import { BigChoice } from "../../ui/choices.tsx";
import { TextField } from "../../ui/field.tsx";
import { ErrorNote, Note, Waiting } from "../../ui/notes.tsx";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { showToast } from "../../ui/toast.tsx";
import { sessionTitle } from "../session/session_title.ts";
import { Missing } from "../visit/missing.tsx";
import { pieceTitle } from "../visit/piece_title.ts";
import { CardNumber } from "./card_number.tsx";
import { Contents } from "./contents.tsx";
import { keepCopies } from "./copies.ts";
import { CopyList } from "./copy_list.tsx";
import { LeftOut } from "./left_out.tsx";
import { LinkSheet, type FreshLink } from "./link_sheet.tsx";
import { endLink, leadOn, makeReport, newLink, type Problem } from "./reports.ts";
import { type Paper, usualPaper } from "./paper.ts";
import { OwnCopy } from "./own_copy.tsx";
import "./report.css";
import { useVersions } from "./use_versions.ts";
import { VersionList, type SharedLink } from "./version_list.tsx";

const DAYS = [{ value: "14", label: "14 days" }, { value: "30", label: "30 days" }, { value: "90", label: "90 days" }, { value: "365", label: "A year" }] as const;
const TO_PAIRING = <div class="row"><Button href="#/pair">Pair with a server</Button></div>;
type Days = (typeof DAYS)[number]["value"];

export default function Report({ params }: ScreenInput) {
  const { visit, session } = params;
  const about = useLive(async (store) => {
    if (session) {
      const record = await store.get(session);
      return record && { subject: { session }, title: sessionTitle(record), back: `#/session/${session}` };
    }
    const record = await store.get(visit!);
    const piece = record && (await store.get(record.values["piece"]));
    return piece && { subject: { piece: piece.id }, title: pieceTitle(piece), back: `#/visit/${visit}` };
  }, [visit, session]);
  if (about === undefined) return <Waiting />;
  if (!about) return <Missing />;
  return <ReportOf key={about.back} {...about} />;
}

function ReportOf({ subject, title, back }: { subject: { session?: string; piece?: string }; title: string; back: string }) {
  const [recipient, setRecipient] = useState("");
  const [days, setDays] = useState<Days>("90");
  const [hidden, setHidden] = useState<readonly string[]>([]);
  const [paper, setPaper] = useState<Paper>(usualPaper(navigator.language));
  const [making, setMaking] = useState(false);
  const [step, setStep] = useState<Step | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [fresh, setFresh] = useState<FreshLink | null>(null);
  const told = useRef<HTMLDivElement>(null);
  // The buttons stand at the foot and down the list: why one came to nothing is brought before the eyes.
  useLayoutEffect(() => { if (problem) told.current?.scrollIntoView({ block: "center" }); }, [problem]);
  const waiting = status.value.media_waiting;
  const [lacking, setLacking] = useState("");
  const store = useStore();
  const about = (subject.session ?? subject.piece)!;
  const { versions, trouble, reload } = useVersions(subject);

  const attempt = async (ask: () => Promise<FreshLink | Problem>) => {
    setMaking(true);
    setProblem(null);
    const answer = await ask();
    setMaking(false);
    setStep(null);
    if ("todo" in answer) setProblem(answer);
    else {
      setFresh(answer);
      reload();
      // The link is there already: copies that could not be had now are a word, not a failure.
      const { lacks } = await keepCopies(store, about, answer).catch(() => ({ lacks: "The copies for later could not be fetched. Open the link, or make a link again with a signal." }));
      setLacking(lacks);
    }
  };
  const named = { recipient: recipient.trim(), days: Number(days) };
  const make = (allowMissing: boolean) => void attempt(() => makeReport({ ...subject, ...named, allow_missing: allowMissing, hidden_groups: hidden, paper }, setStep));
  const revoke = async (link: SharedLink) => {
    const failed = await endLink(link.id);
    if (failed) setProblem(failed);
    else {
      showToast({ words: `The link of ${link.recipient || "nobody named"} is ended for good` });
      reload();
    }
  };

  const changeLead = async (link: SharedLink) => {
    const failed = await leadOn(link.id, !link.leads_on);
    if (failed) setProblem(failed);
    else {
      const isNewest = versions?.every(({ version }) => version <= (versions.find(({ links }) => links.some(({ id }) => id === link.id))?.version ?? 0));
      showToast({ words: link.leads_on ? "That link shows its own version only" : isNewest ? "That link will lead on to a newer version, once there is one" : "That link now leads on to newer versions" });
      reload();
    }
  };

  return (
    <Screen title="Condition report" over={title} back={back}
      foot={<Button wide kind="strong" icon="page" disabled={making} onClick={() => make(false)}>{making ? "Being made…" : "Make the report"}</Button>}>
      <p>For the next buyer: what was seen, what was measured, and what was not checked. Your server makes the page and freezes it; later changes make a new version.</p>
      <Contents />
      {waiting > 0 && <Note tone="tell" title={`${waiting} ${waiting === 1 ? "photo or sound is" : "photos or sounds are"} still on this phone.`}><p>They go over by themselves when there is a signal; a report made now would lack them.</p></Note>}
      {step && (
        <div class="stack tight">
          <progress max={step.of} value={step.done} aria-label="Making the report" />
          <p class="soft">Photos and sounds: {step.done} of {step.of}</p>
        </div>
      )}
      {problem && (
        <div ref={told}>
          <ErrorNote what={problem.what} todo={problem.todo}>
            {problem.missing !== undefined && <div class="row"><Button onClick={() => make(true)}>Make it without them</Button></div>}
            {problem.unpaired && TO_PAIRING}
          </ErrorNote>
        </div>
      )}
      <TextField label="Who gets the link" hint="So that you know which link to end. Not shown in the report." value={recipient} max={120} onInput={setRecipient} />
      <BigChoice legend="How long the link works" options={DAYS} value={days} onChoose={setDays} />
      <LeftOut subject={subject} hidden={hidden} onHidden={setHidden} paper={paper} onPaper={setPaper} />
      <section class="stack" aria-labelledby="versions">
        <h2 id="versions">Versions and links</h2>
        {trouble && trouble.what !== problem?.what && <Note tone="tell" title={trouble.what}><p>{trouble.todo}</p>{trouble.unpaired && TO_PAIRING}</Note>}
        {versions && <VersionList versions={versions} nowMs={Date.now()} onRevoke={(link) => void revoke(link)} onLeadOn={(link) => void changeLead(link)} onNewLink={(publication) => void attempt(() => newLink(publication, named))} />}
        {!versions && !trouble && <Waiting />}
      </section>
      {lacking && <Note tone="tell" title="Not everything is ready for later."><p>{lacking}</p></Note>}
      <CopyList about={about} />
      <CardNumber about={about} />
      <OwnCopy subject={subject} hidden={hidden} />
      {fresh && <LinkSheet fresh={fresh} onClose={() => setFresh(null)} />}
    </Screen>
  );
}
