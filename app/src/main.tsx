import { render } from "preact";
import { App } from "./app.tsx";
import "./css/tokens.css";
import "./css/page.css";
import "./css/controls.css";
import "./css/head.css";
import "./css/plat.css";
import "./css/bench.css";
import "./css/foot.css";
import "./css/import.css";
import "./css/paper.css";
import "./css/soil-need.css";
import { listenToKeys } from "./keys.ts";
import { holdAgainst, openServed, whatIsServed } from "./open/fetched.ts";
import { rememberBefore } from "./state/figures.ts";
import { bringBack, holdPlan, keepSaved } from "./state/session.ts";
import { keepInStep } from "./state/work.ts";

listenToKeys();
render(<App />, document.getElementById("page")!);
holdPlan();

const served = await whatIsServed();
const isBack = await bringBack(served ? `served: ${served.name}` : null);
keepInStep();
keepSaved();
rememberBefore();
if (served && isBack) await holdAgainst(served);
else if (served) await openServed(served);
