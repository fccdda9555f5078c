// Vite plugin: compiles src/sw/sw.ts to a stable /sw.js that carries the list of every built file.
import { createHash } from "node:crypto";
import { readFileSync, readdirSync } from "node:fs";
import { join, relative, sep } from "node:path";
import { build, type Plugin, type ResolvedConfig } from "vite";

/** Vite's own mark of a hashed file: it lives under assets/ and ends in a dash, eight signs and the kind. */
const HASHED = /^assets\/.+-[\w-]{8}\.\w+$/;

function filesUnder(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).split(sep).join("/"));
}

export interface Precache { version: string; hashed: string[]; named: string[] }

/** Sorted precache list of `files` (path without leading slash -> bytes); the version changes when any byte does. */
export function precacheList(files: ReadonlyMap<string, string | Uint8Array>): Precache {
  const paths = [...files.keys()].filter((path) => !path.endsWith(".map")).sort();
  const digest = createHash("sha256");
  for (const path of paths) digest.update(path).update("\0").update(files.get(path)!).update("\0");
  const addresses = (hashed: boolean) => paths.filter((path) => HASHED.test(path) === hashed).map((path) => `/${path}`);
  return { version: digest.digest("hex").slice(0, 16), hashed: addresses(true), named: addresses(false) };
}

async function compileWorker(root: string, precache: Precache): Promise<string> {
  const result = await build({
    configFile: false,
    root,
    publicDir: false,
    logLevel: "warn",
    define: { __PRECACHE__: JSON.stringify(precache) },
    build: { write: false, target: "es2022", rolldownOptions: { input: join(root, "src/sw/sw.ts"), output: { format: "iife" } } },
  });
  if (Array.isArray(result) || !("output" in result)) throw new Error("the service worker must be one output");
  const [chunk, ...others] = result.output;
  if (others.length > 0) throw new Error("the service worker must be one file");
  return chunk.code;
}

export function serviceWorker(): Plugin {
  let config: ResolvedConfig;
  return {
    name: "barnlight-service-worker",
    apply: "build",
    enforce: "post",
    configResolved(resolved) { config = resolved; },
    generateBundle: {
      order: "post",
      async handler(_options, bundle) {
        const files = new Map<string, string | Uint8Array>();
        for (const file of Object.values(bundle)) files.set(file.fileName, file.type === "chunk" ? file.code : file.source);
        for (const path of filesUnder(config.publicDir)) files.set(path, readFileSync(join(config.publicDir, path)));
        const source = await compileWorker(config.root, precacheList(files));
        this.emitFile({ type: "asset", fileName: "sw.js", source });
      },
    },
  };
}
