// A published report kept on the phone as PDF and as one file, to be handed on later where there is no signal.
import { ServerError, getFile } from "../../sync/server.ts";
import type { ReportCopy } from "../../store/meta.ts";
import type { Store } from "../../store/store.ts";
import type { FreshLink } from "./link_sheet.tsx";

/** Older copies than the newest few of one subject make room. */
const KEPT = 3;

/** Fetches what the link gives and keeps it. `lacks` says in the server's words why there is no PDF, "" if there is one. */
export async function keepCopies(store: Store, about: string, { link, title, version, publication }: FreshLink): Promise<{ lacks: string }> {
  const path = new URL(link).pathname;
  const files = [{ name: `condition-report-version-${version}.html`, type: "text/html", bytes: await getFile(`${path}report.html`) }];
  let lacks = "";
  try {
    files.push({ name: `condition-report-version-${version}.pdf`, type: "application/pdf", bytes: await getFile(`${path}report.pdf`) });
  } catch (error) {
    if (!(error instanceof ServerError)) throw error;
    lacks = [error.message, error.hint].filter(Boolean).join(" ");
  }
  const fresh: ReportCopy = { about, publication, version, title, files };
  const others = ((await store.meta.get("report_copies")) ?? []).filter((one) => one.publication !== publication);
  const own = [fresh, ...others.filter((one) => one.about === about)].sort((a, b) => b.version - a.version).slice(0, KEPT);
  await store.meta.set("report_copies", [...own, ...others.filter((one) => one.about !== about)]);
  return { lacks };
}

/** The copies of one subject on this phone, the newest version first. */
export async function copiesOf(store: Store, about: string): Promise<ReportCopy[]> {
  return ((await store.meta.get("report_copies")) ?? []).filter((one) => one.about === about);
}
