import {
  type FileAnswers,
  type Layer,
  type RawLayer,
  rawGeoJson,
  rawShapefile,
  readZip,
  refusalOf,
  type ShapefileParts,
  settleLayer,
  shapefilesIn,
} from "../../src/formats/index.ts";

/** A layer about which nothing stands open; the first open question is thrown as an InputError. */
function settled(raw: RawLayer, answers: FileAnswers = {}): Layer {
  const { layer, questions } = settleLayer(raw, answers);
  if (questions[0] !== undefined) throw refusalOf(questions[0]);
  return layer;
}

export const readGeoJson = (bytes: Uint8Array, name: string, answers?: FileAnswers): Layer =>
  settled(rawGeoJson(bytes, name), answers);

export const readShapefile = (parts: ShapefileParts, name: string): Layer =>
  settled(rawShapefile(parts, name));

/** Every shapefile of a zip archive, in the archive's order. */
export function readShapefileZip(bytes: Uint8Array, name: string): Layer[] {
  const { files, notices } = readZip(bytes, name);
  return shapefilesIn(files, name).map((parts) => {
    const layer = readShapefile(parts, name);
    return { ...layer, notices: [...notices, ...layer.notices] };
  });
}
