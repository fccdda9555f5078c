// A fresh share link: shown once, to copy or hand on, because the server keeps only its fingerprint.
import { shareText } from "../../device/share.ts";
import { Button } from "../../ui/button.tsx";
import { Sheet } from "../../ui/sheet.tsx";
import { showToast } from "../../ui/toast.tsx";
import { dayWords } from "../visit/words.ts";

export interface FreshLink { publication: string; link: string; expires_ms: number; title: string; version: number }

/** What goes with a link, fit to be sent as it is. */
export function messageOf({ link, title, version, expires_ms }: FreshLink): string {
  const until = dayWords(new Date(expires_ms).toISOString().slice(0, 10));
  return `Condition report of ${title}, version ${version}: what was seen, what was measured, and what was not checked. To be read until ${until}: ${link}`;
}

export function LinkSheet({ fresh, onClose }: { fresh: FreshLink; onClose: () => void }) {
  const copy = () => {
    navigator.clipboard.writeText(fresh.link).then(
      () => showToast({ words: "Link copied" }),
      () => showToast({ words: "The phone did not let it be copied: hold the link and copy it by hand.", failed: true }),
    );
  };
  const share = () => {
    shareText(fresh.title, messageOf(fresh)).then((how) => { if (how === "copied") showToast({ words: "Message copied" }); }, copy);
  };
  return (
    <Sheet title={`Version ${fresh.version} is made`} onClose={onClose}>
      <p>Whoever has this link can read the report until {dayWords(new Date(fresh.expires_ms).toISOString().slice(0, 10))}. It is shown only now: copy it or hand it on. You can end it at any time.</p>
      <p class="card link-text"><a href={fresh.link} target="_blank" rel="noopener noreferrer">{fresh.link}</a></p>
      <div class="stack">
        <Button wide kind="strong" icon="copy" onClick={copy}>Copy the link</Button>
        <Button wide icon="share" onClick={share}>Hand on a message with it</Button>
      </div>
    </Sheet>
  );
}
