// Every version made so far, with who has a link to it, until when, and the way to end one.
import { Button } from "../../ui/button.tsx";
import { dayWords } from "../visit/words.ts";

export interface SharedLink { id: string; recipient: string | null; expires_ms: number; revoked: boolean; opened: number; last_opened_day: string | null; leads_on?: boolean }
export interface Version { publication: string; version: number; title: string; published_ms: number; links: SharedLink[] }

export interface VersionListProps {
  versions: readonly Version[];
  nowMs: number;
  onNewLink: (publication: string) => void;
  onRevoke: (link: SharedLink) => void;
  onLeadOn: (link: SharedLink) => void;
}

const localDay = (ms: number): string => {
  const at = new Date(ms);
  return dayWords(`${at.getFullYear()}-${String(at.getMonth() + 1).padStart(2, "0")}-${String(at.getDate()).padStart(2, "0")}`);
};

function linkState(link: SharedLink, nowMs: number): string {
  if (link.revoked) return "ended by you";
  if (link.expires_ms <= nowMs) return `ran out on ${localDay(link.expires_ms)}`;
  return `good until ${localDay(link.expires_ms)}`;
}

export function VersionList({ versions, nowMs, onNewLink, onRevoke, onLeadOn }: VersionListProps) {
  if (versions.length === 0) return <p class="soft">No version has been made yet.</p>;
  const newest = Math.max(...versions.map(({ version }) => version));
  return (
    <ul class="stack">
      {[...versions].sort((a, b) => b.version - a.version).map((version) => (
        <li key={version.publication} class="card stack tight">
          <h3>Version {version.version}</h3>
          <p class="soft small">{version.title}, made {localDay(version.published_ms)}</p>
          <ul class="lines">
            {version.links.map((link) => (
              <li key={link.id} class="row link">
                <span class="who">
                  {link.recipient || "Nobody named"}
                  <span class="soft small"> · {linkState(link, nowMs)} · {link.opened === 0 ? "not opened" : `opened ${link.opened}×, last ${dayWords(link.last_opened_day ?? undefined)}`}</span>
                </span>
                {!link.revoked && link.expires_ms > nowMs && (
                  <>
                    {link.leads_on !== undefined && <Button pressed={link.leads_on} onClick={() => onLeadOn(link)}>{version.version < newest ? "Leads to newer" : "Will lead to newer"}</Button>}
                    <Button kind="danger" onClick={() => onRevoke(link)}>End link</Button>
                  </>
                )}
              </li>
            ))}
          </ul>
          <Button onClick={() => onNewLink(version.publication)}>Another link</Button>
        </li>
      ))}
    </ul>
  );
}
