/**
 * Factors, each built from its definition and never typed in rounded.
 * International foot: NIST/NOAA, Federal Register 85 (193), 5 October 2020, p. 62698.
 * Acre of 43,560 ft2, short ton of 2,000 lb: NIST Handbook 44, Appendix C (from memory).
 */
export const M_PER_FT = 0.3048;
const M_PER_IN: number = M_PER_FT / 12;
/** Centimetres in an inch. */
export const CM_PER_IN: number = 100 * M_PER_IN;
/** International feet in a mile. */
export const FT_PER_MILE = 5_280;
/** Metres a second in 1 mile an hour. */
export const M_PER_S_PER_MPH: number = (FT_PER_MILE * M_PER_FT) / 3_600;
/** International square feet in an acre. */
export const FT2_PER_AC = 43_560;
/** Square metres in an acre. */
export const M2_PER_AC: number = FT2_PER_AC * M_PER_FT ** 2;
/** Square metres in a hectare. */
export const M2_PER_HA = 10_000;
/** Kilograms in a pound, exact (international yard and pound agreement, 1959; from memory). */
export const KG_PER_LB = 0.453_592_37;
/** Pounds in a short ton. */
export const LB_PER_TON = 2_000;
/** kg/ha in 1 lb/ac. */
export const KG_PER_HA_PER_LB_PER_AC: number = (KG_PER_LB / M2_PER_AC) * M2_PER_HA;

/** mg/m2 in 1 lb/ac: 112.0851. */
export const MG_PER_M2_PER_LB_PER_AC: number = (KG_PER_LB * 1e6) / M2_PER_AC;

/** lb/ac in 1 ppm of a furrow slice of 2,000,000 lb, 6 2/3 to 7 in. deep (Penn State Agronomy Guide). */
export const LB_PER_AC_PER_PPM = 2;

/** Acres of square metres. */
export const acres = (areaM2: number): number => areaM2 / M2_PER_AC;
/** Square metres of acres. */
export const squareMetres = (areaAc: number): number => areaAc * M2_PER_AC;
/** Short tons of pounds. */
export const tons = (lb: number): number => lb / LB_PER_TON;
/** Metres of inches. */
export const metresFromInches = (inches: number): number => inches * M_PER_IN;
/** Metres of international feet. */
export const metresFromFeet = (feet: number): number => feet * M_PER_FT;
