import { z } from "zod";
import { InputError } from "../errors/index.ts";
import { checkModel, type Structure, type VariogramModel } from "../interpolate/index.ts";

const typedModel = z.strictObject({
  nugget: z.number(),
  structures: z.array(
    z.strictObject({
      type: z.enum(["spherical", "exponential", "gaussian", "matern"]),
      partialSill: z.number(),
      range: z.number(),
      kappa: z.number().optional(),
    }),
  ),
  anisotropy: z.strictObject({ angle: z.number(), ratio: z.number() }).optional(),
});

/** As it is typed after --model. */
interface TypedModel {
  readonly nugget: number;
  readonly structures: readonly Structure[];
  readonly anisotropy?: { readonly angle: number; readonly ratio: number };
}

const REMEDY =
  'Write --model \'{"nugget":0.05,"structures":[{"type":"spherical","partialSill":0.6,"range":900}]}\'.';

/** A variogram model typed as JSON. Throws `variogram-model`. */
export function readModel(json: string): VariogramModel {
  let value: unknown;
  try {
    value = JSON.parse(json);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new InputError("variogram-model", `--model is no JSON: ${why}`, REMEDY);
  }
  const read = typedModel.safeParse(value);
  if (!read.success)
    throw new InputError("variogram-model", `--model: ${z.prettifyError(read.error)}`, REMEDY);
  const { nugget, structures, anisotropy } = read.data;
  const model: VariogramModel = {
    nugget,
    structures: structures.map(({ kappa, ...rest }) => (kappa === undefined ? rest : { ...rest, kappa })),
    ...(anisotropy === undefined
      ? {}
      : { anisotropy: { angleDeg: anisotropy.angle, ratio: anisotropy.ratio } }),
  };
  checkModel(model);
  return model;
}

/** The model as `readModel` reads it. */
export function modelAsTyped({ nugget, structures, anisotropy }: VariogramModel): TypedModel {
  return {
    nugget,
    structures: structures.map((s) => ({ ...s })),
    ...(anisotropy === undefined
      ? {}
      : { anisotropy: { angle: anisotropy.angleDeg, ratio: anisotropy.ratio } }),
  };
}
