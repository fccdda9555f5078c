// A report as one file that needs nothing beside it: the style and the photos are written into the page.

// Links of the page that lead nowhere from a file, between marks of the template.
const ONLY_ONLINE = /<!--online-->[\s\S]*?<!--\/online-->\n?/g;
const SHEET = '<link rel="stylesheet" href="style.css">';
const POLICY = `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:">`;

/** The page with everything in it; `photos`: JPEG bytes as base64 by the address the page gives them. The same input gives the same text. */
export function oneFile(html: string, css: string, photos: ReadonlyMap<string, string>): string {
  const whole = html.replace(ONLY_ONLINE, "").replace(SHEET, () => `${POLICY}\n<style>\n${css}</style>`);
  return [...photos].reduce((text, [address, base64]) => text.replaceAll(`src="${address}"`, () => `src="data:image/jpeg;base64,${base64}"`), whole);
}
