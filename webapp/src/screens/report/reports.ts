// Asks the server for reports and links, and turns what goes wrong into what to do.
import { call, callAlong, ServerError, type Step } from "../../sync/server.ts";
import type { FreshLink } from "./link_sheet.tsx";
import type { Paper } from "./paper.ts";
import type { Version } from "./version_list.tsx";

/** What is wrong and what to do; `missing` counts photos that are still on a phone; `unpaired`: pairing is what to do. */
export interface Problem { what: string; todo: string; missing?: number; unpaired?: boolean }

export interface Subject { session?: string; piece?: string }
export interface ReportOrder extends Subject {
  recipient: string;
  days: number;
  allow_missing: boolean;
  /** Groups of checks left out, which the report says. */
  hidden_groups: readonly string[];
  paper: Paper;
}

export function problemOf(error: unknown): Problem {
  if (!(error instanceof ServerError)) return { what: "Something went wrong on this phone.", todo: error instanceof Error ? `${error.message} Try again.` : "Try again." };
  if (error.unreachable) return { what: "The server cannot be reached.", todo: "The server makes the report. Your work is safe on this phone and goes over by itself; come back when there is a signal." };
  if (error.status === 401 || error.status === 403) return { what: "This phone is not paired with a server.", todo: "The server makes and keeps reports. Pair this phone, let it send its work, then make the report. Without a server one file can be made on this phone, below.", unpaired: true };
  if (error.code === "media_missing") {
    const missing = (error.details["missing"] as string[] | undefined)?.length ?? 0;
    return { what: `${missing} ${missing === 1 ? "photo or sound is" : "photos or sounds are"} still on a phone.`, todo: "Leave the app open where there is a signal until they are sent, then try again.", missing };
  }
  return { what: error.message, todo: error.hint ?? "Try again in a moment." };
}

async function tried<T>(work: Promise<T>): Promise<T | Problem> {
  try {
    return await work;
  } catch (error) {
    return problemOf(error);
  }
}

/** `hear` is told how far the server is. */
export function makeReport({ recipient, ...order }: ReportOrder, hear: (step: Step) => void): Promise<FreshLink | Problem> {
  return tried(callAlong<FreshLink>("/api/reports", recipient === "" ? order : { ...order, recipient }, hear));
}

export function newLink(publication: string, { recipient, days }: { recipient: string; days: number }): Promise<FreshLink | Problem> {
  return tried(call<FreshLink>("POST", `/api/reports/${publication}/links`, recipient === "" ? { days } : { days, recipient }));
}

/** Lets the reader of a link go on to newer versions, or not; null when it is done. */
export async function leadOn(id: string, leads: boolean): Promise<Problem | null> {
  const answer = await tried(call<undefined>("PATCH", `/api/links/${id}`, { leads_on: leads }));
  return answer === undefined ? null : answer;
}

/** Ends a link for good; null when it is ended. */
export async function endLink(id: string): Promise<Problem | null> {
  const answer = await tried(call<undefined>("DELETE", `/api/links/${id}`));
  return answer === undefined ? null : answer;
}

export function listVersions({ session, piece }: Subject): Promise<Version[] | Problem> {
  return tried(call<Version[]>("GET", session ? `/api/reports?session=${session}` : `/api/reports?piece=${piece}`));
}
