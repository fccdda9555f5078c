// One tap back to the check that was open when the phone went to sleep, died or was put away.
import { useLive } from "../../store/live.ts";
import { Icon } from "../../ui/icon.tsx";
import { lastAddress } from "../visit/left_at.ts";
import { pieceTitle } from "../visit/piece_title.ts";
import { kept } from "../visit/view.ts";

export function Resume() {
  const last = useLive(async (store) => {
    const to = await lastAddress(store);
    const visit = to && (await store.get(to.visit));
    if (!to || !visit || !kept(visit)) return null;
    return { ...to, tag: visit.values["tag"] as string, piece: await store.get(visit.values["piece"]) };
  }, []);
  if (!last) return null;
  return (
    <a class="card lit next-look" href={last.address}>
      <Icon name="onward" />
      <span>Go on where you were: {last.tag}, {pieceTitle(last.piece)}</span>
    </a>
  );
}
