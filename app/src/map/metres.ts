/** A degree of latitude on a sphere of 6,371 km, m: near enough for what is only drawn or pointed at. */
export const M_PER_DEG = 111_195;
