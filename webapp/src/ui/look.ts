// Which colours the app wears: the person's choice, the phone's own, or red while eyes must stay wide open.
import { computed, effect, signal } from "@preact/signals";

export type Look = "auto" | "light" | "dark" | "red";

/** The person's lasting choice; whoever changes the setting also sets this. */
export const look = signal<Look>("auto");
/** True while a coat test runs: red, whatever was chosen. */
export const redNow = signal(false);

/** Puts the colours on the page and keeps them there; call once. */
export function wearLook(): void {
  const night = matchMedia("(prefers-color-scheme: dark)");
  const phoneDark = signal(night.matches);
  night.addEventListener("change", () => { phoneDark.value = night.matches; });
  const worn = computed(() => (redNow.value ? "red" : look.value === "auto" ? (phoneDark.value ? "dark" : "light") : look.value));
  effect(() => {
    document.documentElement.dataset.theme = worn.value;
    const colour = getComputedStyle(document.documentElement).getPropertyValue("--paper").trim();
    for (const meta of document.querySelectorAll<HTMLMetaElement>('meta[name="theme-color"]')) meta.content = colour;
  });
}
