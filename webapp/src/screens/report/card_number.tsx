// The number that ties a report to the very piece: written on a card and photographed beside its marking.
import { reportNumber } from "../../domain/ids.ts";

export function CardNumber({ about }: { about: string }) {
  return (
    <section class="stack tight" aria-labelledby="card-number">
      <h2 id="card-number">A card for the photo</h2>
      <p>Write <b class="mono">{reportNumber(about)}</b> and today's date on a card, lay it beside the serial or another mark of the piece, and photograph both. The report bears the same number: so the buyer knows that it is this piece.</p>
    </section>
  );
}
