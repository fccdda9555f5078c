// The photos taken at this check and place, small, each one tap from its marks.
import type { Rec } from "../../store/store.ts";
import { address } from "../../ui/route.ts";
import { StoredImage } from "../visit/stored_image.tsx";
import type { Spot } from "./save.ts";

export function PlacePhotos({ photos, spot }: { photos: readonly Rec[]; spot: Spot }) {
  const here = photos.filter((photo) => photo.values["check"] === spot.check && (photo.values["place"] ?? "") === spot.place);
  return <PhotoStrip photos={here} visit={spot.visit} />;
}

export function PhotoStrip({ photos, visit }: { photos: readonly Rec[]; visit: string }) {
  if (photos.length === 0) return null;
  return (
    <div class="photo-strip" role="group" aria-label="Photos">
      {photos.map((photo, index) => (
        <a key={photo.id} href={address("/visit", visit, "/photo", photo.id)} class={photo.values["left_out"] ? "left-out" : undefined}>
          <StoredImage hash={photo.values["file"].hash} alt={photo.values["caption"] || `Photo ${index + 1}`} by={photo.fields["file"]?.author} />
        </a>
      ))}
    </div>
  );
}
