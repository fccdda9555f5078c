// The catalogue's cautions as screens show them.
import type { Catalogue } from "../../domain/catalogue.ts";

export interface Caution { id: string; title: string; say: string; topic: string }

export function allCautions(catalogue: Catalogue): readonly Caution[] {
  return catalogue.cautions as readonly Caution[];
}
