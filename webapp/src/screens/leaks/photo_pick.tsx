// Camera and file as two tools that hand over one picture; what becomes of it is the caller's.
import { Icon, type IconName } from "../../ui/icon.tsx";

export type Origin = "camera" | "file";

export interface PhotoPickProps { busy?: boolean; camera: string; file: string; onPick: (file: Blob, origin: Origin) => void }

export function PhotoPick({ busy = false, camera, file, onPick }: PhotoPickProps) {
  const tool = (origin: Origin, icon: IconName, word: string) => (
    <label class="tool">
      <Icon name={icon} />
      {busy ? "Reading…" : word}
      <input type="file" accept="image/*" disabled={busy} capture={origin === "camera" ? "environment" : undefined}
        onChange={(event) => {
          const chosen = event.currentTarget.files?.[0];
          event.currentTarget.value = "";
          if (chosen) onPick(chosen, origin);
        }}
      />
    </label>
  );
  return <div class="tools">{tool("camera", "camera", camera)}{tool("file", "page", file)}</div>;
}
