// Lets another phone into this book: a code and its QR picture, which work once and for a quarter of an hour.
import { useEffect, useState } from "preact/hooks";
import { useLive } from "../../store/live.ts";
import { codeForAnother, pairedDevices, type Invitation } from "../../sync/pairing.ts";
import { ServerError } from "../../sync/server.ts";
import { Button } from "../../ui/button.tsx";
import { ErrorNote, Note, Waiting } from "../../ui/notes.tsx";
import { Qr } from "../../ui/qr.tsx";
import { Screen } from "../../ui/screen.tsx";
import "./another.css";

const LOOK_AGAIN_MS = 4000;

export default function Another() {
  const known = useLive(async (s) => ({ paired: await s.meta.get("paired"), space: await s.meta.get("space_name") }), []);
  const [invitation, setInvitation] = useState<Invitation | null>(null);
  const [problem, setProblem] = useState<{ what: string; todo: string } | null>(null);
  const [isOver, setOver] = useState(false);
  const isPaired = known?.paired !== undefined;
  const joined = useJoined(invitation, isOver);

  const ask = () => {
    setProblem(null);
    codeForAnother().then((made) => { setInvitation(made); setOver(false); }, (error: unknown) => {
      const said = error instanceof ServerError ? error : null;
      setProblem({ what: said?.message ?? "No code could be made.", todo: said?.hint ?? "Try again when the server is in reach." });
    });
  };
  useEffect(() => { if (isPaired) ask(); }, [isPaired]);
  useEffect(() => {
    if (!invitation) return undefined;
    const timer = setTimeout(() => setOver(true), invitation.lasts_ms);
    return () => clearTimeout(timer);
  }, [invitation]);

  const again = <Button kind="strong" wide onClick={ask}>New code</Button>;
  return (
    <Screen title="Let another phone in" back="#/device" foot={isPaired && (problem || isOver || joined) ? again : undefined}>
      {known && !isPaired && <ErrorNote what="This phone shares no book yet." todo="Pair it with a server first; then it can let others in." />}
      {problem && <ErrorNote {...problem} />}
      {isPaired && !problem && !invitation && <Waiting words="Asking the server" />}
      {joined && <Note tone="tell" title={`${joined} is in`} alert><p>It gets the whole book now. For one more phone make a new code.</p></Note>}
      {!joined && isOver && <ErrorNote what="This code has run out." todo="Make a new one when the other phone is at hand." />}
      {invitation && !problem && !joined && !isOver && (
        <>
          <p>Whoever comes in by this code sees and changes all of {known?.space ? `“${known.space}”` : "this book"}. Point the other phone's camera at the picture:</p>
          <Qr rows={invitation.qr} label={`QR code of the link ${invitation.link}`} />
          <p class="center">or type this code there<strong class="pair-code">{invitation.code}</strong></p>
          <p class="soft">It works once, until {new Date(invitation.expires_ms).toLocaleTimeString(undefined, { hour: "2-digit", minute: "2-digit" })}. The link: <span class="wrap-anywhere">{invitation.link}</span></p>
          {isOnlyHere(invitation.link) && <Note tone="care" title="This address is this computer's own"><p>A phone cannot open it. The README says how a phone reaches the server; open Barnlight here under that address, then come back.</p></Note>}
        </>
      )}
    </Screen>
  );
}

/** The name of the phone that came in since the code was made; null until then. */
function useJoined(invitation: Invitation | null, isOver: boolean): string | null {
  const [joined, setJoined] = useState<string | null>(null);
  useEffect(() => {
    setJoined(null);
    if (!invitation || isOver) return undefined;
    const timer = setInterval(() => {
      if (document.visibilityState === "hidden") return;
      pairedDevices().then((devices) => {
        const newest = devices.find(({ paired_ms, this: isThis }) => !isThis && paired_ms >= invitation.made_ms);
        if (newest) { setJoined(newest.name); clearInterval(timer); }
      }, () => undefined);
    }, LOOK_AGAIN_MS);
    return () => clearInterval(timer);
  }, [invitation, isOver]);
  return joined;
}

/** Whether the link leads nowhere but to the machine it is opened on. */
export const isOnlyHere = (link: string): boolean => ["localhost", "127.0.0.1", "[::1]"].includes(new URL(link).hostname);
