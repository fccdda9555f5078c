// Whether the server reads a recording as the phone does, in one quiet line.
import type { Measurement } from "../../domain/shutter_timing.ts";
import { spanWords } from "./words.ts";

export type ServerReading = Pick<Measurement, "verdict" | "open_time_s" | "low_s" | "high_s" | "algorithm">;

/** The two engines place a click within this of one another, seconds. */
const SAME_S = 0.00005;

export function serverWords(phone: ServerReading, server: ServerReading): string {
  const [ours, theirs] = [phone.open_time_s, server.open_time_s];
  const close = ours === null || theirs === null ? ours === theirs : Math.abs(ours - theirs) <= SAME_S;
  if (close && phone.verdict === server.verdict) return ours === null ? "The server cannot read it either." : "The server reads the same.";
  const found = theirs === null || server.low_s === null || server.high_s === null ? "cannot read it" : `reads ${spanWords(theirs, server.low_s, server.high_s)}, ${server.verdict}`;
  const why = phone.algorithm === server.algorithm ? "" : ` It measures by ${server.algorithm}, this phone by ${phone.algorithm}: take up the app's update.`;
  return `The server differs: it ${found}.${why}`;
}
