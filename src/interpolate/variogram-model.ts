import { InputError } from "../errors/index.ts";
import { compileCovariance, covarianceByFormula } from "./covariance.ts";
import type { VariogramModel } from "./types.ts";

const TYPES = ["spherical", "exponential", "gaussian", "matern"];
const REMEDY =
  "Give a nugget and partial sills of 0 or more, ranges above 0 and, for matern, a kappa of 0.1 to 20.";

/** Refuses a model that means nothing: `variogram-model`, naming the part and its value. */
export function checkModel(model: VariogramModel): void {
  const refuse = (what: string): never => {
    throw new InputError("variogram-model", `variogram model: ${what}`, REMEDY);
  };
  if (!(model.nugget >= 0 && Number.isFinite(model.nugget))) refuse(`nugget ${model.nugget}`);
  model.structures.forEach((structure, i) => {
    const name = `structure ${i + 1}`;
    const { type, partialSill, range, kappa } = structure;
    if (!TYPES.includes(type)) refuse(`${name} has the type "${type}"; known are ${TYPES.join(", ")}`);
    if (!(partialSill >= 0 && Number.isFinite(partialSill))) refuse(`${name} has partialSill ${partialSill}`);
    if (!(range > 0 && Number.isFinite(range))) refuse(`${name} has range ${range}`);
    if (type === "matern" && !(kappa !== undefined && kappa >= 0.1 && kappa <= 20))
      refuse(`${name} has kappa ${kappa}`);
    if (type !== "matern" && kappa !== undefined)
      refuse(`${name} is ${type} and has a kappa, which belongs to matern`);
  });
  const { anisotropy } = model;
  if (anisotropy === undefined) return;
  if (!Number.isFinite(anisotropy.angleDeg)) refuse(`anisotropy angle ${anisotropy.angleDeg}`);
  if (!(anisotropy.ratio > 0 && anisotropy.ratio <= 1)) {
    refuse(
      `anisotropy ratio ${anisotropy.ratio}, which is range across over range along and lies above 0 up to 1`,
    );
  }
}

/** Semivariance at the offset (eastM, northM), squared units of the value; 0 at no distance. */
export function semivariance(model: VariogramModel, eastM: number, northM: number): number {
  checkModel(model);
  const covariance = compileCovariance(model);
  const u = covariance.ux * eastM + covariance.uy * northM;
  const v = covariance.vx * eastM + covariance.vy * northM;
  const h = Math.sqrt(u * u + v * v);
  return h === 0 ? 0 : covariance.total - covarianceByFormula(model, h);
}
