import { defineConfig } from "vite";

// The build goes to a folder of its own; seal.mjs then takes it to ../dist, which is committed and never empty.
export default defineConfig({
  build: { outDir: "node_modules/.built", emptyOutDir: true, target: "es2022", chunkSizeWarningLimit: 1200, assetsInlineLimit: 0, modulePreload: { polyfill: false } },
  server: { proxy: { "/api": { target: "http://127.0.0.1:7461", changeOrigin: true } } },
});
