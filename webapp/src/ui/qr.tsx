// A QR code from rows of dark (1) and light (0) squares; dark on white in every theme, since readers look for that.
const MARGIN = 4; // ISO/IEC 18004 asks for four light squares all round

export function Qr({ rows, label }: { rows: readonly string[]; label: string }) {
  const side = rows.length + 2 * MARGIN;
  const dark = rows.flatMap((row, y) => [...row].map((square, x) => (square === "1" ? `M${x + MARGIN} ${y + MARGIN}h1v1h-1z` : ""))).join("");
  return (
    <svg class="qr" viewBox={`0 0 ${side} ${side}`} role="img" aria-label={label} shape-rendering="crispEdges">
      <rect width={side} height={side} fill="#fff" />
      <path d={dark} fill="#000" />
    </svg>
  );
}
