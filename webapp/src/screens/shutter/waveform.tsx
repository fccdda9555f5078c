// The sound of a take with its opening and closing mark: zoomed and moved by finger, buttons or keys, and so are the marks.
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { envelope, loudest } from "./envelope.ts";
import { MarkRow } from "./mark_row.tsx";
import { along, close, type Marks, round, type Span, zoomed } from "./view_span.ts";
import { useWaveFingers } from "./wave_fingers.ts";
import { timeWords } from "./words.ts";

export interface WaveformProps {
  samples: Float32Array;
  rateHz: number;
  marks: Marks | null;
  /** The machine's marks, drawn thin where a person's stand before them. */
  machine: Marks | null;
  /** Clicks the machine found; a mark dropped near one sits on it. */
  clicks: readonly number[];
  onMarks: (marks: Marks) => void;
}

const COLUMNS = 320;
const HEIGHT = 120;
/** Share of the view within which a dropped mark takes a click. */
const SNAP = 0.02;
/** What one press of plus leaves of the view, and how far one press goes along. */
const NEARER = 0.5;
const ALONG = 0.25;
/** A burst of small steps is one edit, saved this long after the last of them. */
const SETTLES_MS = 700;
const WHICH = ["open_s", "close_s"] as const;

export function Waveform({ samples, rateHz, marks: given, machine, clicks, onMarks }: WaveformProps) {
  const lengthS = samples.length / rateHz;
  const whole: Span = { from_s: 0, to_s: lengthS };
  const [marks, setMarks] = useState<Marks>(given ?? { open_s: lengthS / 3, close_s: (2 * lengthS) / 3 });
  const [span, setSpan] = useState<Span>(given ? round(given, lengthS) : whole);
  useEffect(() => { if (given) setMarks(given); }, [given?.open_s, given?.close_s]);
  const save = useSettled(onMarks);
  const peak = useMemo(() => loudest(samples), [samples]);
  const path = useMemo(() => envelope(samples, rateHz, peak, span, COLUMNS, HEIGHT), [samples, rateHz, span.from_s, span.to_s]);

  const widthS = span.to_s - span.from_s;
  const x = (s: number) => (COLUMNS * (s - span.from_s)) / widthS;
  const middle = (span.from_s + span.to_s) / 2;
  const nearer = () => setSpan(zoomed(span, NEARER, middle, lengthS));
  const farther = () => setSpan(zoomed(span, 1 / NEARER, middle, lengthS));
  const go = (share: number) => setSpan(along(span, share, lengthS));

  /** The marks with one of them there, or as they are where they would cross. */
  const within = (which: keyof Marks, s: number): Marks => {
    const moved = { ...marks, [which]: Math.min(lengthS, Math.max(0, s)) };
    return moved.close_s - moved.open_s >= 1 / rateHz ? moved : marks;
  };
  const snapped = (s: number) => {
    const near = [...clicks].sort((a, b) => Math.abs(a - s) - Math.abs(b - s))[0];
    return near !== undefined && Math.abs(near - s) < SNAP * widthS ? near : s;
  };
  const step = (which: keyof Marks, s: number) => {
    const moved = within(which, s);
    setMarks(moved);
    save.soon(moved);
  };
  const fingers = useWaveFingers({
    span, lengthS, marks,
    onSpan: setSpan,
    onMark: (which, s) => setMarks(within(which, s)),
    onDrop: (which, s) => { const moved = within(which, snapped(s)); setMarks(moved); save.now(moved); },
    onLetGo: () => setMarks(given ?? marks),
  });

  const onKeyDown = (event: KeyboardEvent) => {
    const act = { "+": nearer, "=": nearer, "-": farther, ArrowLeft: () => go(-ALONG), ArrowRight: () => go(ALONG), Home: () => setSpan(whole) }[event.key];
    if (!act) return;
    event.preventDefault();
    act();
  };

  return (
    <div class="stack tight">
      <div class="wave" role="group" tabIndex={0} aria-label="Waveform: plus and minus zoom, arrow keys move along, Home shows all" onKeyDown={onKeyDown}>
        <svg class="waveform" viewBox={`0 0 ${COLUMNS} ${HEIGHT}`} preserveAspectRatio="none" role="img" aria-label="Sound of the take with its two marks" {...fingers}>
          <path class="sound" d={path} />
          {machine && WHICH.map((which) => <line key={which} class="machine" x1={x(machine[which])} x2={x(machine[which])} y1="0" y2={HEIGHT} />)}
          {WHICH.map((which) => (
            <g key={which} class={`at ${which}`}>
              <line x1={x(marks[which])} x2={x(marks[which])} y1="0" y2={HEIGHT} />
              <path d={`M${x(marks[which])} ${which === "open_s" ? 0 : HEIGHT}l${which === "open_s" ? "-9 0 9 14" : "-9 0 9 -14"}z`} />
            </g>
          ))}
        </svg>
      </div>
      <p class="small"><strong class="figures">{timeWords(marks.close_s - marks.open_s)}</strong> from mark to mark; {timeWords(widthS)} shown.</p>
      <div class="look-at" role="group" aria-label="Zoom and move along">
        <button type="button" aria-label="Earlier" onClick={() => go(-ALONG)}>←</button>
        <button type="button" aria-label="Zoom out" onClick={farther}>−</button>
        <button type="button" aria-label="Zoom in" onClick={nearer}>+</button>
        <button type="button" aria-label="Later" onClick={() => go(ALONG)}>→</button>
      </div>
      <div class="look-at" role="group" aria-label="Look at">
        <button type="button" onClick={() => setSpan(round(marks, lengthS))}>Firing</button>
        <button type="button" onClick={() => setSpan(whole)}>Whole</button>
        <button type="button" onClick={() => setSpan(close(marks.open_s, lengthS))}>Opening</button>
        <button type="button" onClick={() => setSpan(close(marks.close_s, lengthS))}>Closing</button>
      </div>
      <MarkRow label="Opening" s={marks.open_s} span={span} onMove={(s) => step("open_s", s)} />
      <MarkRow label="Closing" s={marks.close_s} span={span} onMove={(s) => step("close_s", s)} />
    </div>
  );
}

/** Hands a value on at once, or once nothing newer has come for a while; what still waits is handed on when the card goes. */
function useSettled<T>(hand: (value: T) => void): { soon: (value: T) => void; now: (value: T) => void } {
  const waits = useRef<{ value: T; timer: ReturnType<typeof setTimeout> } | null>(null);
  const latest = useRef(hand);
  latest.current = hand;
  const flush = () => {
    const waiting = waits.current;
    if (!waiting) return;
    clearTimeout(waiting.timer);
    waits.current = null;
    latest.current(waiting.value);
  };
  useEffect(() => flush, []);
  const drop = () => { if (waits.current) clearTimeout(waits.current.timer); waits.current = null; };
  return {
    soon: (value) => { drop(); waits.current = { value, timer: setTimeout(flush, SETTLES_MS) }; },
    now: (value) => { drop(); latest.current(value); },
  };
}
