// Camera and file as two tools: what is taken lands on the lit tag and the open check, without a question.
import { useState } from "preact/hooks";
import { NotAPicture } from "../../device/camera.ts";
import { useStore } from "../../store/live.ts";
import { Icon, type IconName } from "../../ui/icon.tsx";
import { address, go } from "../../ui/route.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { addPhoto, type PhotoSpot } from "./add_photo.ts";

/** `fullSize` keeps every pixel, as a pinhole in a bellows may be one. */
export function PhotoButton({ spot, fullSize = false }: { spot: PhotoSpot; fullSize?: boolean }) {
  const store = useStore();
  const [saving, setSaving] = useState(0);

  const add = async (file: Blob, origin: "camera" | "file"): Promise<void> => {
    setSaving((now) => now + 1);
    try {
      const photo = await addPhoto(store, file, spot, { origin, fullSize });
      showToast({ words: "Photo kept", more: { word: "Mark spots", run: () => go(address("/visit", spot.visit, "/photo", photo)) } });
    } catch (error) {
      if (error instanceof NotAPicture) showToast({ words: error.message, failed: true });
      else tellFailure(error, () => void add(file, origin));
    } finally {
      setSaving((now) => now - 1);
    }
  };

  const tool = (origin: "camera" | "file", icon: IconName, word: string) => (
    <label class="tool">
      <Icon name={icon} />
      {word}
      <input
        type="file"
        accept="image/*"
        capture={origin === "camera" ? "environment" : undefined}
        multiple={origin === "file"}
        onChange={(event) => {
          const files = [...(event.currentTarget.files ?? [])];
          event.currentTarget.value = "";
          void files.reduce((before, file) => before.then(() => add(file, origin)), Promise.resolve());
        }}
      />
    </label>
  );
  return (
    <>
      {tool("camera", "camera", saving > 0 ? "Saving…" : "Photo")}
      {tool("file", "page", "From a file")}
    </>
  );
}
