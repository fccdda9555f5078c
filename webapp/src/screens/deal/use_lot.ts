// Everything a lot is reckoned from: its pieces with their answers and deals, all in the lot's currency.
import { buyOrNot } from "../../domain/buy_or_not.ts";
import type { Answer, Piece } from "../../domain/checks.ts";
import { dealLot } from "../../domain/deal_lot.ts";
import { dealTerms } from "../../domain/deal_terms.ts";
import type { Money } from "../../domain/money.ts";
import { useLive } from "../../store/live.ts";
import type { Rec, Store } from "../../store/store.ts";
import { useCatalogue } from "../visit/use_catalogue.ts";
import { kept, loadVisit, openPieces, plain, type OpenPiece, type VisitView } from "../visit/view.ts";
import { currencyOf, type DealRecord, pricesIn, readDeal, reckon, useLater, useLedger } from "./use_deal.ts";

interface LotRow { open: OpenPiece; view: VisitView; deal: DealRecord }

async function readLot(store: Store, id: string): Promise<{ session: Rec; deal: DealRecord; rows: LotRow[] } | null> {
  const session = await store.get(id);
  if (session?.kind !== "session" || !kept(session)) return null;
  const open = await openPieces(store, id);
  const rows = await Promise.all(open.map(async (one) => {
    const view = await loadVisit(store, one.visit.id, true);
    return view ? [{ open: one, view, deal: await readDeal(store, id, view.piece.id) }] : [];
  }));
  return { session, deal: await readDeal(store, id, null), rows: rows.flat() };
}

/** Undefined while it is read and reckoned, null when the session is not on this phone. A piece looked at twice counts once, as last seen. */
export function useLot(id: string) {
  const read = useLive((from) => readLot(from, id), [id]);
  const ledger = useLedger();
  const catalogue = useCatalogue();
  const found = useLater(() => {
    if (!read || !ledger || !catalogue) return undefined;
    const { session, deal, rows } = read;
    const asking = (session.values["asking"] as Money | null | undefined) ?? null;
    const currency = currencyOf(deal.terms, asking, ledger.habits);
    const terms = dealTerms(deal.terms, ledger.habits, asking, null, currency, ledger.day, ledger.rates);
    const last = [...new Map(rows.map((row) => [row.view.piece.id, row])).values()];
    const single = last.map(({ view, deal: own }) => reckon(view, null, own.terms, ledger, catalogue, currency));
    const { shared, costs } = pricesIn(last[0]?.view.costs ?? [], catalogue, ledger, currency);
    const lot = dealLot(terms.deal, last.map(({ open, view }, at) => ({ id: open.visit.id, deal: single[at]!.terms.deal, piece: plain(view.piece) as Piece, answers: view.answers.map(plain) as Answer[] })), shared, costs);
    const gaps = [...terms.missing, ...single.flatMap((one) => one.terms.missing)].filter((gap) => gap !== "too_few");
    return {
      of: id, session, asking, ledger, deal, currency, lot, buy: buyOrNot(lot), pieces: last.map(({ open }, at) => ({ open, sum: lot.pieces[at]! })),
      unrated: gaps.length > 0 || single.some(({ sheet }) => sheet.missing.includes("currency")),
    };
  }, [read, ledger, catalogue]);
  if (read === null) return null;
  return found?.of === id ? found : undefined;
}
