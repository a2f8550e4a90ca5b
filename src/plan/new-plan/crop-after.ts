import type { Notice } from "../../errors/index.ts";
import type { AnswerReader, Answers, Asked } from "../document/answers.ts";
import type { PlanField } from "../document/document-types.ts";

/** The crop of the season after, and the field's rotation as it goes on from there; absent where the field has none. */
export interface CropAfter {
  readonly crop: string;
  readonly rotation?: readonly string[];
}

/**
 * Next in the rotation, or as answered (`crop.FIELD`, `crop`); asked where there is neither. A rotation that has a crop
 * twice is turned so that the crop of the season stands first, since its name alone does not tell which of the two it
 * is; last season's crop is then the first of its name in the rotation, told in a notice where the other goes on
 * differently. An answered crop that is not in the rotation is put behind it.
 */
export function cropAfter(
  { id, name, crop: last, rotation }: PlanField,
  asks: Asked,
  reader: AnswerReader,
  answers: Answers,
  notices: Notice[],
): CropAfter {
  const isAnswered = (answers[`crop.${id}`] ?? answers.crop) !== undefined;
  const asked = (): string => reader.text("crop", asks, `Which crop follows ${last} in ${name}?`, []);
  if (rotation === undefined) return { crop: asked() };
  const following = rotation.flatMap((crop, at) =>
    crop === last ? [{ at: (at + 1) % rotation.length, crop: rotation[(at + 1) % rotation.length]! }] : [],
  );
  const first = following[0] ?? { at: 0, crop: rotation[0]! };
  const crop = isAnswered ? asked() : first.crop;
  if (!rotation.includes(crop)) return { crop, rotation: [...rotation, crop] };
  if (new Set(rotation).size === rotation.length) return { crop, rotation };
  const other = following.find((one) => one.crop !== first.crop);
  if (!isAnswered && other !== undefined)
    notices.push({
      code: "crop-twice-in-rotation",
      message: `${name}: ${crop} follows ${last}, which stands more than once in the rotation ${rotation.join(", ")}; if ${other.crop} is to follow, answer crop.${id}=${other.crop}`,
      where: id,
    });
  const at = (following.find((one) => one.crop === crop) ?? { at: rotation.indexOf(crop) }).at;
  return { crop, rotation: [...rotation.slice(at), ...rotation.slice(0, at)] };
}
