// The letter to a distant seller: numbered questions in their language, each with the buyer's own where that is wanted.
import type { Questions } from "../../domain/catalogue.ts";

/** Plain text to copy or share. `own`: a language to set under each question, or none. */
export function letterText(asked: readonly string[], language: string, own: string | null, { letter, questions, more }: Questions): string {
  const lines = asked.flatMap((id, index) => {
    const say = questions.find((one) => one.id === id)?.say ?? more[id];
    if (!say) return [];
    return [[`${index + 1}. ${say[language]}`, ...(own && own !== language ? [`   (${say[own]})`] : [])].join("\n")];
  });
  return [letter.opening[language], ...lines, letter.closing[language]].join("\n\n");
}

/** The phone's language where the questions stand in it, else English. */
export function ownLanguage({ languages }: Pick<Questions, "languages">, phone: string): string {
  const wanted = phone.slice(0, 2).toLowerCase();
  return languages.some(({ id }) => id === wanted) ? wanted : "en";
}

/** What is ticked at first: the key questions, and the first ones up to a list that a stranger will answer. */
export function firstChoice(rows: readonly { question: string; key: boolean }[], most = 6): string[] {
  const keys = rows.filter(({ key }) => key).map(({ question }) => question);
  const others = rows.filter(({ key }) => !key).slice(0, Math.max(0, most - keys.length)).map(({ question }) => question);
  return rows.map(({ question }) => question).filter((id) => keys.includes(id) || others.includes(id));
}
