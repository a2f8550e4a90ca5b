/**
 * Extractants by the codes of the open lab-result standard: first version by suffix (.01.03 colorimetric, .04 ICP),
 * second version as in its method list (AgGateway, Modus Soil Methods, commit 0fdca74). Codes of other extractants
 * (Bray 1:7, values turned into Bray by regression) are left out on purpose: they are asked.
 * The published table from first to second version swaps the two finishes of Mehlich 3 and is not used.
 */
const METHODS: Readonly<Record<string, string>> = {
  "S-P-B1-1:10.01.03": "bray-p1",
  "S-P-BIC.01.03": "olsen",
  "S-P-BIC.04": "olsen",
  "S-P-M3.04": "mehlich-3-icp",
  "S-P-M3.01.03": "mehlich-3-colorimetric",
  "S-K-NH4AC.05": "ammonium-acetate",
  "S-K-AA.23": "ammonium-acetate",
  "S-K-M3.05": "mehlich-3",
  "S-K-M3.06": "mehlich-3",
  L_MODV2_SOIL_P_004: "bray-p1",
  L_MODV2_SOIL_P_045: "olsen",
  L_MODV2_SOIL_P_030: "mehlich-3-icp",
  L_MODV2_SOIL_P_031: "mehlich-3-colorimetric",
  L_MODV2_SOIL_P_032: "mehlich-3-icp",
  L_MODV2_SOIL_P_033: "mehlich-3-colorimetric",
  L_MODV2_SOIL_K_002: "ammonium-acetate",
  L_MODV2_SOIL_K_031: "mehlich-3",
  L_MODV2_SOIL_K_032: "mehlich-3",
};

/** The extractant a method code stands for; null when the list does not have it. */
export function methodOfCode(code: string): string | null {
  return METHODS[code.trim().toUpperCase()] ?? METHODS[code.trim()] ?? null;
}
