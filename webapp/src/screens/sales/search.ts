// Finds sessions by any word in their title, place or seller, or in the titles and marks of their pieces.

export interface Searchable {
  /** Id of the session the texts belong to. */
  session: string;
  texts: readonly (string | undefined | null)[];
}

/** Lower case without accents: nobody types those in a barn. */
export function plainText(text: string): string {
  return text.normalize("NFD").replace(/\p{M}/gu, "").toLocaleLowerCase();
}

/** Ids of the sessions whose texts together hold every word of the query, in the given order. */
export function findSessions(query: string, items: readonly Searchable[]): string[] {
  const words = plainText(query).split(/\s+/).filter(Boolean);
  const texts = new Map<string, string>();
  for (const { session, texts: parts } of items) {
    const joined = parts.filter((part): part is string => typeof part === "string").join("\n");
    texts.set(session, `${texts.get(session) ?? ""}\n${plainText(joined)}`);
  }
  return [...texts].filter(([, text]) => words.every((word) => text.includes(word))).map(([session]) => session);
}
