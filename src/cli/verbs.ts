import type { Command } from "./command.ts";

export interface Verb {
  readonly name: string;
  /** One line of help. */
  readonly about: string;
  /** Loaded only when needed, so that --help answers at once. */
  readonly load: () => Promise<{ readonly command: Command }>;
}

/** Every verb, in the order of the work. */
export const verbs: readonly Verb[] = [
  {
    name: "read",
    about: "say what a file holds, and what it leaves open",
    load: () => import("./commands/read.ts"),
  },
  {
    name: "new",
    about: "make a plan from boundaries, guidance lines and lab tables",
    load: () => import("./commands/new.ts"),
  },
  {
    name: "build",
    about: "work a plan out to prescription files",
    load: () => import("./commands/build.ts"),
  },
  {
    name: "need",
    about: "what a guide says to a soil test, step by step",
    load: () => import("./commands/need.ts"),
  },
  {
    name: "passes",
    about: "lay strip passes over a field, in figures",
    load: () => import("./commands/passes.ts"),
  },
  {
    name: "capacity",
    about: "acres a fill, an hour and a day at the strip's rates, and who waits",
    load: () => import("./commands/capacity.ts"),
  },
  {
    name: "interpolate",
    about: "krige a table in a plane, with a given model or an averaged one",
    load: () => import("./commands/interpolate.ts"),
  },
  {
    name: "fills",
    about: "where to stop and fill, and how much",
    load: () => import("./commands/fills.ts"),
  },
  {
    name: "season",
    about: "acres a day, finish dates, planters, humidity",
    load: () => import("./commands/season.ts"),
  },
  { name: "order", about: "what to order, what it costs", load: () => import("./commands/order.ts") },
  {
    name: "applied",
    about: "hold logs and scale tickets against the map",
    load: () => import("./commands/applied.ts"),
  },
  {
    name: "remainder",
    about: "the strip map of what is not worked yet",
    load: () => import("./commands/remainder.ts"),
  },
  {
    name: "ledger",
    about: "what each field received, and where it stands",
    load: () => import("./commands/ledger.ts"),
  },
  {
    name: "stick",
    about: "put a build's maps on a stick for the controller",
    load: () => import("./commands/stick.ts"),
  },
  {
    name: "check",
    about: "see whether a written set is still as written",
    load: () => import("./commands/check.ts"),
  },
  {
    name: "serve",
    about: "show the page on this computer",
    load: () => import("./commands/serve.ts"),
  },
];
