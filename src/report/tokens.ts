/** Colours of the page and of every drawing. `flag` says "look here" and is never data. */
export interface Colours {
  readonly paper: string;
  readonly sheet: string;
  readonly rule: string;
  readonly line: string;
  readonly ink2: string;
  readonly ink: string;
  readonly flag: string;
  readonly straw: string;
  readonly sunFlag: string;
  readonly white: string;
  readonly black: string;
}

/** The colours of page and sheets. */
export const colours: Colours = {
  paper: "#faf8f3",
  sheet: "#f3f1e9",
  rule: "#c1beb1",
  line: "#77818c",
  ink2: "#4b535f",
  ink: "#171e2b",
  flag: "#cc2c05",
  straw: "#ebe1b0",
  sunFlag: "#aa1004",
  white: "#ffffff",
  black: "#000000",
};

/** Colour, or black alone for printing. */
export type Inks = "colour" | "black";

/** The ink and the ground of a drawing. */
export const inkOf = (inks: Inks = "colour"): string => (inks === "black" ? colours.black : colours.ink);
export const paperOf = (inks: Inks = "colour"): string => (inks === "black" ? colours.white : colours.paper);

/** Ramps: of soil tests, of rates, of differences. */
export type RampName = "soil" | "rate" | "diff";

/** Steps in a ramp. */
export const RAMP_STEPS = 7;

/** Seven steps each, least first: light is little; in `diff` ochre is less and blue more. */
export const ramps: Readonly<Record<RampName, readonly string[]>> = {
  soil: ["#f2e9d0", "#dac59c", "#c4a16d", "#aa7e4a", "#8c5e32", "#6a4123", "#482817"],
  rate: ["#e0f1f2", "#a7d2de", "#71b2ce", "#448fbd", "#2a6ba6", "#234787", "#1e275e"],
  diff: ["#78460e", "#ae7328", "#dab37c", "#f1f0ec", "#92c0e8", "#4c83cb", "#2c4ba6"],
};

/** Ground where nothing comes is bare paper inside a dotted edge: in grey the least class looks like it otherwise. */
export const noneEdge: { readonly width: number; readonly dashes: readonly [number, number] } = {
  width: 1.2,
  dashes: [2.4, 2.4],
};

/** In black alone: px between level rules 1 px thick; closer is more. Whole pixels, or the order shimmers. */
export const rulePitchPx: readonly number[] = [14, 10, 7, 5, 4, 3, 2];

/** In black alone: width of the rules along a pass as a share of their pitch; heavier is more. */
export const ruleShare: readonly number[] = [0.04, 0.17, 0.29, 0.42, 0.55, 0.67, 0.8];

/** In colour: width of the rule along a pass as a share of the pass, by ramp step. */
export const passShare = (step: number): number => 0.12 + (0.82 * step) / (RAMP_STEPS - 1);

/** Faces for titles and large numbers. Nothing may depend on the width of a text. */
export const titleFaces = "'Iowan Old Style','Palatino Linotype',Palatino,P052,Georgia,serif";
/** Faces for running text and tables. */
export const textFaces = "'Segoe UI',Roboto,'Helvetica Neue','Liberation Sans',sans-serif";

interface LineWeights {
  readonly hairline: number;
  readonly contour: number;
  readonly grid: number;
  readonly thin: number;
  readonly axis: number;
  readonly medium: number;
  readonly boundary: number;
  readonly critical: number;
  readonly heavy: number;
}

/** px. */
export const lineWeights: LineWeights = {
  hairline: 0.5,
  contour: 0.5,
  grid: 0.7,
  thin: 0.8,
  axis: 1,
  medium: 1.2,
  boundary: 1.8,
  critical: 2,
  heavy: 3,
};
