// The phone's lamp, by way of the rear camera: only some browsers offer it.

let track: MediaStreamTrack | null = null;

type TorchCapabilities = MediaTrackCapabilities & { torch?: boolean };

/** Whether this browser knows of torches at all; whether this phone gives its own is known once it is asked to. */
export async function hasTorch(): Promise<boolean> {
  const supported = navigator.mediaDevices?.getSupportedConstraints?.() as (MediaTrackSupportedConstraints & { torch?: boolean }) | undefined;
  return supported?.torch === true && navigator.maxTouchPoints > 0;
}

/** Lights or puts out the lamp; rejects when the phone does not give it. */
export async function setTorch(on: boolean): Promise<void> {
  if (!on) {
    track?.stop();
    track = null;
    return;
  }
  if (!track) {
    const stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: { exact: "environment" } } });
    track = stream.getVideoTracks()[0] ?? null;
  }
  if (!(track?.getCapabilities?.() as TorchCapabilities | undefined)?.torch) {
    await setTorch(false);
    throw new Error("This camera has no lamp that a page may light.");
  }
  await track!.applyConstraints({ advanced: [{ torch: true } as MediaTrackConstraintSet] });
}
