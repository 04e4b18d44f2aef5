// Takes the build to ../dist, the new files before the old ones go, with a hash of every source of the page beside it, so that "go test ./web"
// sees a build that is stale, without Node.
import { createHash } from "node:crypto";
import { cpSync, mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";

const built = "node_modules/.built", dist = "../dist";
mkdirSync(`${dist}/assets`, { recursive: true });
cpSync(`${built}/assets`, `${dist}/assets`, { recursive: true });
cpSync(built, dist, { recursive: true });
const fresh = new Set(readdirSync(`${built}/assets`));
for (const name of readdirSync(`${dist}/assets`)) if (!fresh.has(name)) rmSync(`${dist}/assets/${name}`);

// The libraries' licences go with what is built from them.
const within = ["preact", "@preact/signals", "@preact/signals-core", "three", "uplot"];
const licence = (name) => `${name}\n\n${readFileSync(`node_modules/${name}/LICENSE`, "utf8").trim()}\n`;
writeFileSync(`${dist}/licences.txt`, within.map(licence).join("\n----\n\n"));

const names = ["index.html", "package.json", "package-lock.json", "tsconfig.json", "vite.config.ts", "seal.mjs"];
for (const folder of ["src", "public"])
  for (const e of readdirSync(folder, { recursive: true, withFileTypes: true }))
    if (e.isFile()) names.push(`${e.parentPath}/${e.name}`.replaceAll("\\", "/"));
const lines = names.sort().map((n) => `${createHash("sha256").update(readFileSync(n)).digest("hex")}  ${n}\n`);
writeFileSync(`${dist}/sources.txt`, lines.join(""));
