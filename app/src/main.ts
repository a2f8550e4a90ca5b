import "./css/tokens.css";
import "./css/page.css";
import "./css/controls.css";
import "./css/head.css";
import "./css/plat.css";
import "./css/bench.css";
import "./css/compare.css";
import "./css/foot.css";
import "./css/import.css";
import "./css/paper.css";
import "./css/season.css";
import "./css/soil-need.css";
import "./css/strips.css";
import { workAhead } from "./engine/client.ts";
import { breathe } from "./engine/yielding.ts";
import { whatIsServed } from "./open/served.ts";

/**
 * The first of the page's scripts, small so that it runs at once: the worker begins to read its code, the server is
 * asked what it holds, and page and map load side by side. A saved plan is worked on while they do.
 */
// The worker begins when its end here is read; asking is a piece of its own, as everything is that follows.
await breathe();
const served = whatIsServed();
void served
  .then((found) => found?.read)
  .then(
    (files) => files && workAhead(files, /^#\/?([^/]+)\//.exec(location.hash)?.[1] ?? null),
    // The page waits for the same files, and says that they did not come.
    () => {},
  );
// One after the other, so that neither holds up the page for long.
void import("./map/map-library.ts").then(() => import("./map/plat-map.ts"));
const { openPage } = await import("./page.tsx");
await breathe();
await openPage(served);
