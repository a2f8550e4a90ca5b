import type {
  PlanBinSize,
  PlanOrder,
  PlanPlanter,
  PlanRigHold,
  PlanSeason,
  PlanSeed,
  PlanTender,
} from "../plan/index.ts";

/** What a seed file says: the named scenario, its random seed and the choices a reader may want to see. */
export interface Seed {
  readonly format: "seed/1";
  /** Name of the folder in sample-data. */
  readonly name: string;
  readonly seed: number;
  /** Invented. */
  readonly farm: string;
  /** Middle of the farm, WGS84. */
  readonly place: { readonly lonDeg: number; readonly latDeg: number };
  readonly seasonYear: number;
  /** YYYY-MM-DD, written into archives and the plan. */
  readonly date: string;
  readonly guide: string;
  readonly guideOptions: Readonly<Record<string, string>>;
  readonly capLbPerAc: number;
  readonly work: SeedWork;
  readonly soil: SeedSoil;
  readonly layout: SingleLayout | SectionsLayout;
}

/** The farm's rig, people and dealer as the plan's own keys tell them. Nothing of it alters a rate. */
export interface SeedWork {
  /** In the order of the plan's bins: 11-52-0, then 0-0-60. */
  readonly bins: readonly PlanBinSize[];
  readonly rig: PlanRigHold;
  readonly tender: PlanTender;
  readonly nearSeed: PlanSeed;
  readonly pricesUsdPerTon: Readonly<Record<string, number>>;
  /** A planter plants all fields of its crop. Fields are worked planter by planter. */
  readonly season: Omit<PlanSeason, "order" | "planters"> & {
    readonly planters: readonly (Omit<PlanPlanter, "fields"> & { readonly crop: string })[];
  };
  readonly order: PlanOrder;
}

export interface SeedSoil {
  /** Correlation scale of the relief, m. */
  readonly reliefScaleM: number;
  readonly P: SeedSurface;
  readonly K: SeedSurface;
  readonly CEC: SeedSurface;
}

/**
 * A soil test's surface: median x exp(sd x field + farmSd x wide field + onKnolls x knoll + inBottoms x bottom),
 * held between `least` and `most`. P and K in ppm, CEC in meq/100 g; sds and effects in ln units.
 */
export interface SeedSurface {
  readonly median: number;
  readonly sd: number;
  /** Correlation scale of the field (exponential), m. */
  readonly scaleM: number;
  /** Of the wide field that makes one field differ from the next. */
  readonly farmSd: number;
  readonly farmScaleM: number;
  readonly onKnolls: number;
  readonly inBottoms: number;
  readonly least: number;
  readonly most: number;
  /** Of a composite sample around the true value: short-scale variation and the laboratory. */
  readonly sampleNoise: number;
}

/** One field of about a quarter section: a crooked creek edge, a farmstead corner, a grassed waterway. */
export interface SingleLayout {
  readonly kind: "single";
  readonly field: string;
  readonly crop: "corn" | "soybean";
  readonly yieldBuPerAc: number;
  readonly widthM: number;
  readonly heightM: number;
}

/** A farm on square sections with roads on the section lines, creeks and a railroad. */
export interface SectionsLayout {
  readonly kind: "sections";
  readonly columns: number;
  readonly rows: number;
  readonly fields: number;
  readonly areaAc: number;
  /** The section lines' turn from north, degrees clockwise. */
  readonly turnDeg: number;
}
