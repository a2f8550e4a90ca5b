import { z } from "zod";
import { type Remainder, remainder, type WorkDone } from "../../applied/index.ts";
import { squareMetres } from "../../units/index.ts";
import { partMissing, type ReadShape } from "./read-calculation.ts";
import { Numbers, Place } from "./shapes.ts";

const Done: z.ZodType<WorkDone> = z.discriminatedUnion("by", [
  z.strictObject({ by: z.literal("pass"), order: Numbers, doneAfter: z.number() }),
  z.strictObject({
    by: z.literal("log"),
    skippedShare: Numbers,
    fromShare: z.exactOptional(z.number()),
  }),
  z.strictObject({ by: z.literal("line"), line: z.tuple([Place, Place]) }),
]);

/** What `remainder --input` takes. `polygon` (outer ring first, metres) is needed only for a drawn line. */
const RemainderShape = z.strictObject({
  segments: z.array(
    z.strictObject({
      pass: z.number(),
      areaAc: z.number(),
      ratesLbPerAc: Numbers,
      polygon: z.exactOptional(z.array(z.array(Place))),
    }),
  ),
  done: Done,
  factors: z.exactOptional(Numbers),
  ratesLbPerAc: z.exactOptional(Numbers),
});

/** The unworked part by itself. */
export function remainderOf(read: ReadShape): Remainder {
  const given = read(RemainderShape);
  const { segments, done, ...change } = given;
  const bad = segments.findIndex((segment) => done.by === "line" && segment.polygon === undefined);
  if (bad >= 0) throw partMissing(`segments[${bad}].polygon`);
  return remainder(
    segments.map(({ pass, areaAc, ratesLbPerAc, polygon = [] }) => ({
      pass,
      areaM2: squareMetres(areaAc),
      ratesLbPerAc,
      polygon,
    })),
    done,
    change,
  );
}
