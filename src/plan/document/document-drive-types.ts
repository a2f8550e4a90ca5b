/** A place typed or drawn, WGS 84. */
export interface PlanPlace {
  readonly lonDeg: number;
  readonly latDeg: number;
}

/** Keys of `rig` that tell how it drives a field and what its meters can follow. */
export interface PlanRigDrive {
  /** Passes round the inside of the boundary and of its holes, 0 to 4; none when absent. */
  readonly headlandPasses?: number;
  /** When the headland is worked; last when absent. */
  readonly headlands?: "last" | "first";
  /** Order of passes; back and forth when absent. */
  readonly pattern?: "back-and-forth" | "every-second" | "skip";
  /** Smallest radius the rig turns by, ft. */
  readonly turnRadiusFt?: number;
  /** A rate for every segment (when absent), or for stretches that a meter can follow. */
  readonly rates?: "segments" | "stretches";
  /** Seconds a meter takes to reach a new rate; 4 assumed when absent. */
  readonly responseS?: number;
  /** Shortest stretch with a rate of its own, ft; 3 x speed x response when absent. */
  readonly shortestStretchFt?: number;
  /** Rates are moved ahead by so many seconds of driving; not at all when absent. */
  readonly leadS?: number;
  /** Parts of the rig that start and stop by themselves; the whole rig when absent. */
  readonly sections?: {
    readonly count: number;
    /** Seconds from the order to product on the ground, and to its end; 0 when absent. */
    readonly onDelayS?: number;
    readonly offDelayS?: number;
  };
  /** Overlap in % of the interior; typed it replaces what geometry gives. */
  readonly overlapPercent?: number;
  /** In odd years strips lie half a row to this side of the line; never when absent. */
  readonly oddYears?: "right" | "left";
  /** The planter that follows on the strips. */
  readonly planter?: {
    readonly rows: number;
    readonly rowSpacingIn: number;
    readonly drilled?: boolean;
    readonly sameLine?: boolean;
  };
}

/** Keys of a field that tell how the rig drives there. */
export interface PlanFieldDrive {
  /** In place of the line of the guidance file: a heading, or a line through two places (A, B) or more. */
  readonly driveAlong?: { readonly headingDeg: number } | { readonly places: readonly PlanPlace[] };
  /** In place of the rig's own number. */
  readonly headlandPasses?: number;
}
