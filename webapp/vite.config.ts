// How the web app is built and unit-tested: one bundle, its service worker, output inside the Python package.
import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";
import { serviceWorker } from "./build/service_worker_plugin.ts";

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

export default defineConfig({
  plugins: [serviceWorker()],
  resolve: { alias: { "@catalogue": here("../backend/barnlight/catalogue"), "@template": here("../backend/barnlight/report/template") } },
  json: { stringify: true },
  build: {
    outDir: here("../backend/barnlight/webapp_dist"),
    emptyOutDir: true,
    target: "es2022",
    // The content security policy allows no data: fonts or scripts, so every asset stays a file.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
  worker: { format: "es" },
  server: { fs: { allow: [here("..")] }, proxy: { "/api": "http://localhost:8787", "/r": "http://localhost:8787", "/evidence": "http://localhost:8787" } },
  // A busy machine may take its time.
  test: { include: ["src/**/*.test.{ts,tsx}", "build/**/*.test.ts", "tools/**/*.test.ts"], environment: "node", testTimeout: 60_000 },
});
