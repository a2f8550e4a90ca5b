// Takes out of a build the declarations that nothing importable leads to: `node told-types.mjs DIST`. They are of the program's inside
// and would be a tenth of what is installed.
import { existsSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { dirname, join } from "node:path";
import process from "node:process";

const dist = process.argv[2];
if (dist === undefined || !existsSync(join(dist, "index.d.ts")))
  throw new Error(`told-types.mjs: no index.d.ts in ${dist}`);

/** Declarations that one names, by its own path. */
const namedIn = (path) =>
  [...readFileSync(path, "utf8").matchAll(/["'](\.{1,2}\/[^"']+)["']/g)].map(([, to]) =>
    join(dirname(path), to.replace(/\.[jt]s$/, ".d.ts")),
  );

const told = new Set();
const open = [join(dist, "index.d.ts")];
while (open.length > 0) {
  const path = open.pop();
  if (told.has(path) || !existsSync(path)) continue;
  told.add(path);
  open.push(...namedIn(path));
}
for (const name of readdirSync(dist, { recursive: true })) {
  const path = join(dist, name);
  if (path.endsWith(".d.ts") && !told.has(path)) rmSync(path);
}
