// Keeps the screen awake while a person works; phones that cannot do so simply go dark as usual.

/** Holds the screen awake until the returned function is called; taken again when the page comes back into view. */
export function keepAwake(): () => void {
  let wanted = true;
  let lock: WakeLockSentinel | null = null;
  const take = () => {
    if (!wanted || document.visibilityState !== "visible" || !("wakeLock" in navigator)) return;
    navigator.wakeLock.request("screen").then(
      (given) => { if (wanted) lock = given; else void given.release(); },
      () => undefined, // Low battery or not allowed: nothing a person must act on.
    );
  };
  document.addEventListener("visibilitychange", take);
  take();
  return () => {
    wanted = false;
    document.removeEventListener("visibilitychange", take);
    void lock?.release();
  };
}
