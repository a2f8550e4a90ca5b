import type { FieldResult, RunResult, SettledBlend } from "../plan/index.ts";
import { splitMethodInWords } from "../report/index.ts";

/** How a field was split and what to mind, for result.json: arrays over cells are left to cells.csv. */
export function splitJson({ split, care }: FieldResult): Record<string, unknown> {
  const { method, capLbPerAc, ceilingLbPerAc, share, layers, optimum, limitedLbPerAc } = split;
  return {
    ceilingLbPerAc,
    split: {
      method,
      words: splitMethodInWords(method),
      capLbPerAc,
      share,
      layers,
      optimum,
      limitedLbPerAc,
    },
    salt: care.salt,
    riding: care.riding,
  };
}

/** What comes along with the products over all fields, lb. */
export function alongJson({ fields }: RunResult): Record<string, number> {
  const along = { N: 0, S: 0, Zn: 0 };
  for (const { alsoWanted } of fields) for (const one of alsoWanted) along[one.nutrient] += one.alongLb;
  return along;
}

export const blendJson = ({ product, parts, fields, facts }: SettledBlend): Record<string, unknown> => ({
  id: product.id,
  fields,
  analysis: product.grade,
  parts: parts.map((part) => ({ product: part.product.id, share: part.share })),
  ...facts,
});
