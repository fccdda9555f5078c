// Asks the server, where there is one in reach, what it reads in a take's recording; silent otherwise.
import { useEffect, useState } from "preact/hooks";
import type { Measurement } from "../../domain/shutter_timing.ts";
import { useStore } from "../../store/live.ts";
import { call } from "../../sync/server.ts";
import { status } from "../../sync/status.ts";
import { serverWords, type ServerReading } from "./server_words.ts";

export function ServerReadingLine({ hash, marked, result }: { hash: string; marked: string; result: Measurement }) {
  const store = useStore();
  const [reading, setReading] = useState<ServerReading | null>(null);
  const { state, media_waiting: waiting } = status.value;
  const inReach = state === "idle" || state === "sending";

  useEffect(() => {
    let wanted = true;
    const ask = async () => {
      if ((await store.mediaState(hash)) === "here") return;
      const found = await call<ServerReading>("GET", `/api/recordings/${hash}/measure?marked=${encodeURIComponent(marked)}`);
      if (wanted) setReading(found);
    };
    // Nobody waits for this line: without an answer the phone's own reading stands alone.
    if (inReach && !reading) ask().catch(() => undefined);
    return () => { wanted = false; };
  }, [hash, marked, inReach, waiting]);

  return reading && <p class="soft small">{serverWords(result, reading)}</p>;
}
