/** The way that is open where the build from before a change of product knows no finish: it came after it. No full stop. */
export const OR_PUT_BACK =
  "or, where the field was finished since with ground left unstripped, which that build does not know, put the product back in plan.json for that run";

/** Where the log of a product of before is read. No full stop. */
export const READ_BY_BUILD_BEFORE: string = `Where the plan's product was changed after the pass, give the build from before the change as PLAN, ${OR_PUT_BACK}`;
