import type { Status } from "./types.ts";

/** A caution shown on every surface. The tool never certifies that a plan keeps the law. */
export interface Caution {
  readonly id: string;
  /** Where it holds. */
  readonly place: string;
  readonly text: string;
  readonly status: Status;
  readonly source: string;
}

const none = "no single text: take the local rule from the plan";

/** Rules of places on when and where fertilizer may lie, each with its source; bermplan certifies nothing by them. */
export const cautions: readonly Caution[] = [
  {
    id: "ohio-lake-erie-surface",
    place: "Ohio, western Lake Erie basin",
    text: "No surface N or P fertilizer on frozen or snow-covered soil, on soil whose top 2 in. are saturated, or (granular) when the forecast gives more than 50 % chance of more than 1 in. of rain in 12 hours.",
    status: "read",
    source: "Ohio State Univ. Ext. fact sheet ANR-0156",
  },
  {
    id: "ohio-lake-erie-exempt",
    place: "Ohio, western Lake Erie basin",
    text: "Exempt: injected, incorporated within 24 hours, or into a growing crop; so most placement in the strip is outside the rule, which the user must confirm. Penalty up to $10,000. Keep the forecast records.",
    status: "second-hand",
    source: "trade group summary, 2015",
  },
  {
    id: "other-states",
    place: "every other state",
    text: "Similar limits on frozen, snow-covered or saturated soil, setbacks from streams, tile inlets, wells and sinkholes, and duties under a phosphorus index exist. Distances differ by state and program: they come from the plan, this tool has none of its own.",
    status: "common practice",
    source: none,
  },
  {
    id: "nrcs-590",
    place: "land under practice standard 590",
    text: "Federal, state and local law must be kept; the standard does not contain it.",
    status: "read",
    source: "Wisconsin ATCP 51, appendix B",
  },
  {
    id: "nrcs-590-kentucky",
    place: "Kentucky, land under practice standard 590",
    text: "Starter N and K, rate and place, must follow land-grant guidance because of salt; a phosphorus risk assessment is needed when P exceeds the guide or in P-impaired watersheds.",
    status: "read",
    source: "practice standard 590, Kentucky",
  },
  {
    id: "high-tests",
    place: "everywhere",
    text: "No P above the limit of the guide. Draw buffers and setbacks as exclusion areas with their method (surface, in strip).",
    status: "common practice",
    source: none,
  },
  {
    id: "wet-soil",
    place: "everywhere",
    text: "Strips made in wet soil smear and compact; late fall is often too wet for strips.",
    status: "read",
    source: "Fernandez, Considerations for strip-till fertilizer application",
  },
  {
    id: "dust-and-handling",
    place: "everywhere",
    text: "Protect lungs and eyes, cover tenders, do not fill beside wells or inlets, sweep up spills.",
    status: "common practice",
    source: none,
  },
  {
    id: "licence",
    place: "some states",
    text: "Some states license applicators or require certified plans.",
    status: "common practice",
    source: none,
  },
  {
    id: "not-advice",
    place: "everywhere",
    text: "The rates follow the guide chosen and the figures entered. The local guide, local rules and a licensed or certified adviser go before them.",
    status: "ours",
    source: none,
  },
  {
    id: "no-lime",
    place: "everywhere",
    text: "Soil pH, buffer pH and organic matter are read and shown; the tool makes no lime recommendation.",
    status: "ours",
    source: none,
  },
];
