// The sound of a take with its opening and closing mark, which a finger or the arrow keys can move.
import { useEffect, useMemo, useState } from "preact/hooks";
import { envelope, type Span } from "./envelope.ts";

export interface Marks { open_s: number; close_s: number }

export interface WaveformProps {
  samples: Float32Array;
  rateHz: number;
  marks: Marks | null;
  /** Clicks the machine found; a mark dropped near one sits on it. */
  clicks: readonly number[];
  onMarks: (marks: Marks) => void;
}

type View = "firing" | "whole" | "open_s" | "close_s";
const VIEWS: readonly { value: View; label: string }[] = [
  { value: "firing", label: "Firing" }, { value: "whole", label: "Whole" }, { value: "open_s", label: "Opening" }, { value: "close_s", label: "Closing" },
];

const COLUMNS = 320;
const HEIGHT = 120;
/** Shown on either side of a mark when close up. */
const CLOSE_S = 0.012;
/** Shown on either side of a firing, at least; a long one gets more. */
const BESIDE_S = 0.015;
const BESIDE_SHARE = 0.6;
/** Share of the view within which a dropped mark takes a click. */
const SNAP = 0.02;

export function Waveform({ samples, rateHz, marks: given, clicks, onMarks }: WaveformProps) {
  const whole: Span = { from_s: 0, to_s: samples.length / rateHz };
  const [marks, setMarks] = useState<Marks>(given ?? { open_s: whole.to_s / 3, close_s: (2 * whole.to_s) / 3 });
  const [view, setView] = useState<View>(given ? "firing" : "whole");
  // What is shown stays put while a mark is dragged.
  const [base, setBase] = useState(marks);
  useEffect(() => { if (given) { setMarks(given); setBase(given); } }, [given?.open_s, given?.close_s]);

  const look = (next: View) => { setView(next); setBase(marks); };
  const span = spanOf(view, base, whole);
  const width_s = span.to_s - span.from_s;
  const path = useMemo(() => envelope(samples, rateHz, span, COLUMNS, HEIGHT), [samples, rateHz, span.from_s, span.to_s]);
  const x = (s: number) => (COLUMNS * (s - span.from_s)) / width_s;

  const within = (which: keyof Marks, s: number): Marks => {
    const least = 1 / rateHz;
    const moved = { ...marks, [which]: Math.min(whole.to_s, Math.max(0, s)) };
    if (moved.close_s <= moved.open_s) return marks;
    return moved.close_s - moved.open_s < least ? marks : moved;
  };
  const snapped = (s: number) => {
    const near = [...clicks].sort((a, b) => Math.abs(a - s) - Math.abs(b - s))[0];
    return near !== undefined && Math.abs(near - s) < SNAP * width_s ? near : s;
  };

  const drag = (event: PointerEvent & { currentTarget: SVGSVGElement }) => {
    const svg = event.currentTarget;
    const at = (one: PointerEvent) => {
      const box = svg.getBoundingClientRect();
      return span.from_s + (width_s * (one.clientX - box.left)) / box.width;
    };
    const start = at(event);
    const which: keyof Marks = view === "whole" || view === "firing" ? (Math.abs(start - marks.open_s) <= Math.abs(start - marks.close_s) ? "open_s" : "close_s") : view;
    let last = within(which, start);
    svg.setPointerCapture(event.pointerId);
    setMarks(last);
    const move = (one: PointerEvent) => { last = within(which, at(one)); setMarks(last); };
    const drop = () => {
      svg.removeEventListener("pointermove", move);
      last = within(which, snapped(last[which]));
      setMarks(last);
      onMarks(last);
    };
    svg.addEventListener("pointermove", move);
    svg.addEventListener("pointerup", drop, { once: true });
    svg.addEventListener("pointercancel", () => { svg.removeEventListener("pointermove", move); setMarks(given ?? marks); }, { once: true });
  };

  return (
    <div class="stack tight">
      <svg class="waveform" viewBox={`0 0 ${COLUMNS} ${HEIGHT}`} preserveAspectRatio="none" role="img" aria-label="Sound of the take with its two marks" onPointerDown={drag}>
        <path class="sound" d={path} />
        {(["open_s", "close_s"] as const).map((which) => (
          <g key={which} class={`at ${which}`}>
            <line x1={x(marks[which])} x2={x(marks[which])} y1="0" y2={HEIGHT} />
            <path d={`M${x(marks[which])} ${which === "open_s" ? 0 : HEIGHT}l${which === "open_s" ? "-9 0 9 14" : "-9 0 9 -14"}z`} />
          </g>
        ))}
      </svg>
      <div class="look-at" role="group" aria-label="Look at">
        {VIEWS.map(({ value, label }) => <button type="button" key={value} aria-pressed={view === value} onClick={() => look(value)}>{label}</button>)}
      </div>
      <MarkSlider label="Opening mark" which="open_s" marks={marks} span={span} onMove={(s) => setMarks(within("open_s", s))} onDone={(s) => onMarks(within("open_s", s))} />
      <MarkSlider label="Closing mark" which="close_s" marks={marks} span={span} onMove={(s) => setMarks(within("close_s", s))} onDone={(s) => onMarks(within("close_s", s))} />
    </div>
  );
}

function spanOf(view: View, { open_s, close_s }: Marks, whole: Span): Span {
  if (view === "whole") return whole;
  const beside = view === "firing" ? Math.max(BESIDE_S, BESIDE_SHARE * (close_s - open_s)) : CLOSE_S;
  const [first, last] = view === "firing" ? [open_s, close_s] : view === "open_s" ? [open_s, open_s] : [close_s, close_s];
  return { from_s: Math.max(0, first - beside), to_s: Math.min(whole.to_s, last + beside) };
}

interface SliderProps { label: string; which: keyof Marks; marks: Marks; span: Span; onMove: (s: number) => void; onDone: (s: number) => void }

/** For keyboard and screen reader: an arrow key moves by a two-hundredth of what is shown, a tenth of a millisecond close up. */
function MarkSlider({ label, which, marks, span, onMove, onDone }: SliderProps) {
  const value = marks[which];
  if (value < span.from_s || value > span.to_s) return null;
  const step = Math.max(0.0001, (span.to_s - span.from_s) / 200);
  return (
    <label class="mark-slider small">
      {label}
      <input type="range" min={span.from_s} max={span.to_s} step={step} value={value} aria-valuetext={`${(1000 * value).toFixed(1)} milliseconds`}
        onInput={(event) => onMove(Number(event.currentTarget.value))} onChange={(event) => onDone(Number(event.currentTarget.value))} />
    </label>
  );
}
