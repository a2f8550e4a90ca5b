import type { Verb } from "./verbs.ts";

/** The verbs of the season: the rig moving, the money right, what the ground got. */
export const seasonVerbs: readonly Verb[] = [
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
];
