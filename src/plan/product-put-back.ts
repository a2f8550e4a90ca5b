/** The way that is open where the build from before a change of product knows no finish: it came after it. No full stop. */
export const OR_PUT_BACK =
  "or, where the field was finished since with ground left unstripped, which that build does not know, put the product back in plan.json for that run";
