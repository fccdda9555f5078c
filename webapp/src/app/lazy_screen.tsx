// Shows the screen of an address: at once if it was opened before, otherwise as soon as its code is read.
import { useEffect, useErrorBoundary, useState } from "preact/hooks";
import { Button } from "../ui/button.tsx";
import { ErrorNote, Waiting } from "../ui/notes.tsx";
import { Screen } from "../ui/screen.tsx";
import type { ScreenInput } from "../ui/screen_input.ts";
import type { Found, ScreenModule } from "./routes.ts";

const loaded = new Map<string, ScreenModule>();

/** Reads a screen's code ahead of the tap that needs it. */
export async function readAhead(found: Found): Promise<void> {
  if (!loaded.has(found.pattern)) loaded.set(found.pattern, await found.load());
}

type State = { pattern: string; failed: boolean } | null;

export function LazyScreen({ found, query }: { found: Found; query: Record<string, string> }) {
  const [state, setState] = useState<State>(null);
  const [tries, setTries] = useState(0);
  const module = loaded.get(found.pattern);

  useEffect(() => {
    // Asked of what was drawn: code that was read ahead between drawing and this moment must be drawn still.
    if (module) return undefined;
    let wanted = true;
    const settle = (failed: boolean) => { if (wanted) setState({ pattern: found.pattern, failed }); };
    readAhead(found).then(() => settle(false), () => settle(true));
    return () => { wanted = false; };
  }, [found.pattern, tries]);

  if (module) return <Guarded key={found.pattern} module={module} params={found.params} query={query} />;
  if (state?.failed && state.pattern === found.pattern) {
    return (
      <Screen title="Not on this phone yet" back="#/">
        <ErrorNote what="This part of the app could not be read." todo="Nothing you entered is lost. Try again; if it fails, open Barnlight once where there is a signal.">
          <div class="row"><Button kind="strong" onClick={() => { setState(null); setTries(tries + 1); }}>Try again</Button></div>
        </ErrorNote>
      </Screen>
    );
  }
  return <Waiting />;
}

function Guarded({ module, params, query }: ScreenInput & { module: ScreenModule }) {
  const [error, reset] = useErrorBoundary((thrown) => console.error(thrown));
  if (error) return <Broken error={error} reset={reset} />;
  return <module.default params={params} query={query} />;
}

function Broken({ error, reset }: { error: unknown; reset: () => void }) {
  return (
    <Screen title="This screen stopped" back="#/" backWord="Back to the sales">
      <ErrorNote what="Something in this screen went wrong." todo="What you saved is still on the phone. Show the screen again, or go back to the sales and open it from there.">
        <div class="row">
          <Button kind="strong" onClick={reset}>Show it again</Button>
          <Button href="#/">To the sales</Button>
        </div>
      </ErrorNote>
      <details class="fold">
        <summary>For whoever mends it</summary>
        <div class="inside small"><p>{error instanceof Error ? `${error.name}: ${error.message}` : String(error)}</p></div>
      </details>
    </Screen>
  );
}
