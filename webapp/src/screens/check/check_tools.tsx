// What a free hand may want beside an answer: a picture, the torch, words, the recorder, the red-dark screen.
import { useEffect, useState } from "preact/hooks";
import type { Check } from "../../domain/catalogue.ts";
import { hasTorch, setTorch } from "../../device/torch.ts";
import { Icon } from "../../ui/icon.tsx";
import { address } from "../../ui/route.ts";
import { showToast } from "../../ui/toast.tsx";
import { Tool } from "../../ui/tool.tsx";
import { PhotoButton } from "../photo/photo_button.tsx";
import { DarkTimer } from "./dark_timer.tsx";
import type { Spot } from "./save.ts";

function TorchTool() {
  const [there, setThere] = useState(false);
  const [on, setOn] = useState(false);
  useEffect(() => {
    void hasTorch().then(setThere);
    return () => { void setTorch(false).catch(() => undefined); };
  }, []);
  if (!there) return null;
  const turn = () => {
    setTorch(!on).then(() => setOn(!on), () => showToast({ words: "The phone did not give its torch. Use the one in its own menu.", failed: true }));
  };
  return <Tool icon="torch" pressed={on} onClick={turn}>Torch</Tool>;
}

export interface CheckToolsProps { check: Check; spot: Spot; hasWords: boolean; onWords: () => void; onLeaveOut: () => void }

export function CheckTools({ check, spot, hasWords, onWords, onLeaveOut }: CheckToolsProps) {
  const [dark, setDark] = useState(false);
  return (
    <div class="tools" role="group" aria-label="Tools">
      <PhotoButton spot={spot} fullSize={check.leak_photo || check.tools?.includes("leaks")} />
      <TorchTool />
      {check.recorder && <a class="tool" href={address("/visit", spot.visit, "/shutter")}><Icon name="sound" />Record it</a>}
      {check.tools?.includes("leaks") && <a class="tool" href={address("/visit", spot.visit, "/leaks", { check: check.id, place: spot.place })}><Icon name="torch" />Find leaks</a>}
      {check.tools?.filter((tool) => tool !== "leaks").map((tool) => <a key={tool} class="tool" href={address("/visit", spot.visit, "/measure", tool, { check: check.id, place: spot.place })}><Icon name="ruler" />Measure</a>)}
      {check.leak_photo && <Tool icon="eye" onClick={() => setDark(true)}>Red dark</Tool>}
      <Tool icon="pen" pressed={hasWords} onClick={onWords}>Words</Tool>
      <Tool icon="cross" onClick={onLeaveOut}>Does not apply</Tool>
      {dark && <DarkTimer onClose={() => setDark(false)} />}
    </div>
  );
}
