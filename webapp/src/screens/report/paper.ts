// The paper a PDF is made for, at first what is usual where the phone's language is spoken.

export type Paper = "a4" | "letter";

// Where letter is the usual size: common practice, from memory.
const LETTER = ["US", "CA", "MX", "PH", "CL", "CO", "CR", "GT", "PA", "PR", "SV", "VE"];

export function usualPaper(language: string): Paper {
  const region = /[-_]([A-Z]{2})\b/i.exec(language)?.[1]?.toUpperCase() ?? "";
  return LETTER.includes(region) ? "letter" : "a4";
}
