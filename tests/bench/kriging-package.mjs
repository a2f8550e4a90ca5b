// The `kriging` package in a process of its own, since it changes Array.prototype. Only ever timed: its nugget and its
// mean follow other rules. Reads samples and places from standard input, prints the seconds its predictions took.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const { x, y, value, places } = JSON.parse(readFileSync(0, "utf8"));
const file = createRequire(import.meta.url).resolve("kriging/dist/kriging.js");
// Its file declares a global and exports nothing that Node can import.
const { kriging } = new Function(`${readFileSync(file, "utf8")}; return test;`)();
const model = kriging.train(value, x, y, "spherical", 0, 100);
const start = performance.now();
for (const [px, py] of places) kriging.predict(px, py, model);
console.log((performance.now() - start) / 1000);
