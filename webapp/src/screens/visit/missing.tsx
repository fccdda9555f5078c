// The piece of an address is not on this phone: says why that may be and what to do.
import { Button } from "../../ui/button.tsx";
import { ErrorNote } from "../../ui/notes.tsx";
import { Screen } from "../../ui/screen.tsx";

export function Missing({ what = "piece" }: { what?: string }) {
  return (
    <Screen title={`No such ${what} here`} back="#/">
      <ErrorNote what={`This ${what} is not on this phone.`} todo="It may be on another phone that has not sent it yet, or it was taken off. Pair this phone under Device, wait for a signal, and open it again.">
        <div class="row"><Button href="#/">To the sales</Button><Button href="#/device">Device</Button></div>
      </ErrorNote>
    </Screen>
  );
}
