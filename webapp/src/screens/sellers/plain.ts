// Records as the pure rules read them, and the ones that were not taken off.
import type { Rec } from "../../store/store.ts";

export const plain = (record: Rec): Record<string, any> & { id: string } => ({ ...record.values, id: record.id });

export const present = (records: readonly Rec[]): Rec[] => records.filter((record) => record.values["deleted"] !== true);
