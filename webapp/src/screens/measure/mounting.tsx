// Mounting: which hole a lens wants, whether a board has it, and what an adapter between two boards would have to do.
import { adapter, boardRoom, holeSize, holeTakes, thicknessTakes, wantedHole } from "../../domain/mounting.ts";
import { type LengthUnit, showLength } from "../../domain/lengths.ts";
import { fixed } from "../../domain/rounding.ts";
import { readFigure } from "../../domain/uncertainty.ts";
import { Button } from "../../ui/button.tsx";
import { PickField } from "../../ui/field.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { useKit } from "../kit/things.ts";
import { AdapterDrawing } from "./adapter_drawing.tsx";
import { NotYet } from "./not_yet.tsx";
import { type Asked, mmIn, reckon } from "./plan.ts";
import { type Desk, ToolFrame } from "./tool_frame.tsx";

const BOARD = "other.lens_board.flat";
const CAMERA = "camera.complete.board";

/** Whose board a visit's readings are of follows from the kind of piece, the first word of its checks. */
function planFor(kind: string | undefined): readonly Asked[] {
  const at = (of: string, check: string, reading: string) => (kind === of ? { reading: { check, reading } } : {});
  return [
    { id: "thread", measure: "thread_mm", label: "Thread of the lens, behind the board", hint: "Needed where its shutter has no usual size", optional: true, ...at("lens", "lens.complete.ring", "mount_thread") },
    { id: "rear", measure: "rear_width_mm", label: "Widest part behind the board", optional: true, ...at("lens", "lens.fit.clearance", "rear_width") },
    { id: "hole", measure: "hole_mm", label: "Hole in the lens's board", hint: "Across, at three places", optional: true, ...at("lens", "lens.fit.mount", "hole"), ...at("other", BOARD, "hole"), ...at("camera", CAMERA, "board_hole") },
    { id: "thickness", measure: "board_thickness_mm", label: "Thickness of that board", hint: "Where the lens is clamped", optional: true, ...at("lens", "lens.fit.mount", "board_thickness"), ...at("other", BOARD, "thickness"), ...at("camera", CAMERA, "board_thickness") },
    { id: "lens_width", measure: "board_width_mm", label: "Width of the lens's board", optional: true, ...at("other", BOARD, "width") },
    { id: "lens_height", measure: "board_height_mm", label: "Height of the lens's board", optional: true, ...at("other", BOARD, "height") },
    { id: "width", measure: "board_width_mm", label: "Width of the board the camera takes", optional: true, ...at("camera", CAMERA, "board_width") },
    { id: "height", measure: "board_height_mm", label: "Height of the board the camera takes", optional: true, ...at("camera", CAMERA, "board_height") },
    { id: "opening", measure: "front_opening_mm", label: "Opening behind that board", hint: "The narrowest the rear of the lens must pass", optional: true },
  ];
}

export default function Mounting(input: ScreenInput) {
  return (
    <ToolFrame input={input} name="mounting" title="Mounting and boards" withTool plan={planFor(input.query["check"]?.split(".")[0])}
      about="A lens goes through a hole in a board, and the board into the camera. Type what you can measure; each pair of figures answers one question."
      choices={(desk) => <Choices {...desk} />}>
      {(desk) => <Result {...desk} />}
    </ToolFrame>
  );
}

function Choices({ words, set, catalogue, unit }: Desk) {
  const sizes = catalogue.measures.find(({ id }) => id === "shutter_size")!.terms ?? [];
  const cameras = (useKit() ?? []).filter(({ kind, facts }) => kind === "camera" && facts["board_width_mm"] && facts["board_height_mm"]);
  return (
    <>
      <PickField label="Size of the shutter" value={words["size"] ?? ""} options={[{ value: "", label: "None, or not known" }, ...sizes.map((size) => ({ value: size, label: size }))]} onPick={(size) => set({ size })} />
      {cameras.map(({ id, title, facts }) => {
        const [width, height, opening] = (["board_width_mm", "board_height_mm", "front_opening_mm"] as const).map((fact) => facts[fact] as number | null | undefined);
        const typed = (mm: number | null | undefined) => (mm ? `${fixed(mm, 1)} mm` : "");
        return <Button key={id} onClick={() => set({ width: typed(width), height: typed(height), opening: typed(opening) })}>Take {title}: {showLength(width!, unit)} × {showLength(height!, unit)}</Button>;
      })}
    </>
  );
}

const HOLE = { fits: "The hole takes the lens.", cannot_tell: "It is too close to say: try the lens in the hole." } as const;
const THICK = { fits: "The board suits the thread.", too_thin: "The board is thinner than the ring can hold: a washer must go under it.", too_thick: "The board is thicker than the thread reaches: it must be cut thinner round the hole." } as const;

function Result({ words, unit, catalogue, readWith }: Desk) {
  const found = reckon(() => {
    const mm = (id: string) => mmIn(words, id, unit);
    const [hole, thickness, thread, rear, opening] = [mm("hole"), mm("thickness"), mm("thread"), mm("rear"), mm("opening")];
    const size = words["size"] || null;
    const wanted = size || thread !== null ? wantedHole(size, thread, catalogue) : null;
    const usual = hole === null ? null : holeSize(readFigure(hole, readWith("hole")), catalogue);
    const of = size ?? usual?.size ?? null;
    const mine = boardOf(mm("width"), mm("height"));
    const lens = boardOf(mm("lens_width"), mm("lens_height"));
    return {
      wanted, usual, mine, lens, hole,
      takes: wanted && hole !== null ? holeTakes(readFigure(hole, readWith("hole")), wanted) : null,
      thickness: of && thickness !== null ? thicknessTakes(thickness, of, catalogue) : null,
      room: wanted && mine ? boardRoom(mine.width_mm, mine.height_mm, wanted.mm) : null,
      adapter: lens && mine ? adapter(lens, mine) : null,
      passes: rear === null || opening === null ? null : { rear, opening },
    };
  });
  if (!found || "wrong" in found) return <NotYet wrong={found?.wrong} words="" />;
  const { wanted, usual, takes, thickness, room, adapter: between, passes, lens, mine, hole } = found.value;
  if (!wanted && !usual && !between && !passes) return <NotYet words="Type a hole or a thread, or both boards." />;
  const by = takes ? showLength(Math.abs(takes.by_mm), unit) : "";
  return (
    <section class="stack" aria-labelledby="result">
      <h2 id="result">What it comes to</h2>
      {usual && <p>{usual.size ? `The hole is that of shutter size ${usual.size} (${showLength(usual.hole_mm, unit)}).` : `The hole is of no usual shutter: the nearest is size ${usual.nearest}, ${showLength(usual.hole_mm, unit)}.`} <span class="small soft">{usual.source} ({usual.sureness}).</span></p>}
      {wanted && <p>The lens wants a hole of {showLength(wanted.mm, unit)}; {showLength(wanted.low_mm, unit)} to {showLength(wanted.high_mm, unit)} will do. <span class="small soft">{wanted.source} ({wanted.sureness}).</span></p>}
      {takes && <p class="card lit">{takes.fit === "bore" ? `The hole must be made wider by ${by}.` : takes.fit === "ring" ? `The hole is too wide by ${by}: a ring must fill it, or the lens goes on another board.` : HOLE[takes.fit]}</p>}
      {thickness && <p>{THICK[thickness.fit]} ({showLength(thickness.low_mm, unit)} to {showLength(thickness.high_mm, unit)}; {thickness.source}, {thickness.sureness}.)</p>}
      {room && <p>{room.enough ? `The camera's own board is large enough for that hole: ${showLength(room.rim_mm, unit)} are left at the narrowest.` : "The camera's board is too small for that hole."}</p>}
      {between && lens && mine && (
        <>
          <p class="card lit">{betweenWords(between, unit)}</p>
          <AdapterDrawing lens={lens} camera={mine} holeMm={hole} />
        </>
      )}
      {passes && <p>{passes.rear + 1 <= passes.opening ? "The rear of the lens passes the front of the camera." : "The rear of the lens does not pass the opening, or only just: no adapter behind the front helps; a board that stands forward may."}</p>}
      <p class="small soft">Boards of one size still differ at corners, thickness and rib: try one. A rim under 6 mm holds nothing, boards within 0.5 mm count as one size, and 1 mm must be free round the rear: common practice, no source.</p>
    </section>
  );
}

function boardOf(width_mm: number | null, height_mm: number | null) {
  return width_mm === null || height_mm === null ? null : { width_mm, height_mm };
}

function betweenWords({ need, rim_mm }: ReturnType<typeof adapter>, unit: LengthUnit): string {
  if (need === "none") return "Both boards are of one size: no adapter is needed.";
  if (need === "reducing") return `An adapter board of the camera's size must carry the smaller one: a frame of ${showLength(rim_mm, unit)} all round, with its own light trap and latch. It sets the lens forward by its thickness.`;
  if (rim_mm < 0) return "The lens's board is larger than the camera's: it cannot be carried. The lens must go on a board of this camera.";
  return `Only ${showLength(rim_mm, unit)} of frame would be left round the lens's board: too little to hold it. The lens must go on a board of this camera.`;
}
