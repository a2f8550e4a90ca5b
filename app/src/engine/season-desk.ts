import {
  appliedAcres,
  appliedField,
  appliedSteps,
  builtMaps,
  catchUpFiles,
  catchUpPlace,
  doneAfter,
  fillPlan,
  finishChart,
  graveDoubt,
  logsAsOne,
  meteredOfScaleLb,
  type Notice,
  noticesOfFiles,
  orderOfPlan,
  type ProductLog,
  packShapefiles,
  plannedLbPerAc,
  QuestionError,
  type RunResult,
  readInput,
  requireStripFinished,
  rigFigures,
  seasonOfPlan,
  tenderPlaces,
  toDelete,
  waitsFor,
  weightChart,
  wholeStopsInWords,
  withCatchUps,
  writeZip,
} from "#core";
import { planFiles } from "./carry-off.ts";
import type { NamedFile } from "./protocol.ts";
import type { AppliedView, ChosenLog, FillsView, SeasonAsk, SeasonTold } from "./season-protocol.ts";
import { sourceOf } from "./source-of.ts";

/** Answers what the sheets of fills, season, order and applied ask, from a result without files. */
export async function seasonTold(
  result: RunResult,
  ask: SeasonAsk,
  files: ReadonlyMap<string, Uint8Array>,
): Promise<SeasonTold> {
  const { plan, fields, stands } = result;
  switch (ask.kind) {
    case "fills":
      return fillsView(result, ask);
    case "season": {
      const season = seasonOfPlan(plan, fields, { stands, ...ask.options });
      const [first] = season.finish;
      return { kind: "season", season, finish: first ? finishChart(first, { width: 380, height: 120 }) : "" };
    }
    case "order":
      return { kind: "order", order: orderOfPlan(plan, fields, { stands }) };
    case "applied":
      return appliedView(result, ask, files);
  }
}

function fillsView(
  result: RunResult,
  { field: id, stand, system }: Extract<SeasonAsk, { kind: "fills" }>,
): FillsView {
  const { plan } = result;
  const field = result.fields.find((one) => one.field.id === id)!;
  const { bins } = rigFigures(plan);
  const fills = fillPlan(plan, field, {
    places: tenderPlaces(plan, field),
    ...(stand === null
      ? {}
      : {
          stand: {
            stoppedAfterPass: stand.passesDone,
            binLb: stand.scaleLb.map((lb, b) => meteredOfScaleLb(lb, bins[b]!.residualLb)),
          },
        }),
  });
  return {
    kind: "fills",
    field: id,
    fills,
    plannedOn: stand === null ? "" : doneAfter(field, `driven:${stand.passesDone}`).words,
    begun:
      stand === null
        ? wholeStopsInWords(
            field.field.name,
            result.stands.find((one) => one.fieldId === id),
            "plan on from where the rig stands, under Bin reads",
          )
        : "",
    stopsAt: fills.stops.map((stop) => {
      const [lon, lat] = field.checked.frame.toLonLat(stop.place);
      return [lon, lat];
    }),
    weights: fills.plan.feasible
      ? bins.map((_, bin) => weightChart(fills, { width: 380, height: 120, bin, system }))
      : [],
  };
}

async function appliedView(
  result: RunResult,
  { field: id, logs, isSaved }: Extract<SeasonAsk, { kind: "applied" }>,
  files: ReadonlyMap<string, Uint8Array>,
): Promise<AppliedView> {
  const { plan } = result;
  const field = result.fields.find((one) => one.field.id === id)!;
  const read = logs.map(readLog);
  const applied = appliedField(plan, field, read, [], result.ledger.entries);
  const products = applied.products.map((one) => {
    const { skippedShare: _skipped, overlappedShare: _twice, ...shown } = one;
    return {
      ...shown,
      plannedLbPerAc: plannedLbPerAc(field, one),
      steps: appliedSteps(field, one),
      acres: appliedAcres(field, one),
    };
  });
  if (isSaved) requireStripFinished(applied);
  const { catchUp } = applied;
  return {
    kind: "applied",
    field: id,
    products,
    balances: catchUp.balances,
    catchUp: catchUp.prescriptions.map(({ product, stem, totalLb }) => ({ product, stem, totalLb })),
    voids: catchUp.voids,
    toDelete: catchUp.voids.length === 0 ? null : toDelete(plan, field, "broadcast"),
    notDrivenAc: applied.notDrivenAc,
    areLogsMissing: applied.missing.length > 0,
    waitsFor: waitsFor(applied),
    graveDoubt: graveDoubt(applied.notices)?.message ?? null,
    // What reading the files left out stands above what is made of the rest.
    notices: [...read.flatMap((one) => one.notices), ...applied.notices],
    zip: isSaved ? await zipped(result, new Map([[id, catchUp.prescriptions]]), files, catchUp.voids) : null,
  };
}

async function zipped(
  result: RunResult,
  maps: Parameters<typeof withCatchUps>[1],
  files: ReadonlyMap<string, Uint8Array>,
  takesPlaceOf: readonly string[],
): Promise<NonNullable<AppliedView["zip"]>> {
  const written = await withCatchUps(result, maps);
  const all = catchUpFiles(written, __TOOL_VERSION__, planFiles(result.plan, files), takesPlaceOf);
  const { from, which, said } = catchUpPlace(result.plan, await builtMaps(sourceOf(all)));
  const copy = from === "" ? [] : [`Copy by hand from ${from} onto an empty stick${which}.`];
  const notices = noticesOfFiles(written).map(({ message }) => message);
  return {
    name: "catch-up.zip",
    bytes: writeZip(all, result.plan.date),
    said: [...copy, ...said, ...notices],
  };
}

/** Throws what the readers throw, and the questions of the first file that has any. */
function readLog({ product, name, files }: ChosenLog): ProductLog & { readonly notices: readonly Notice[] } {
  const readings = logFiles(name, files).map(([called, inside]) => {
    const reading = readInput(called, new Map(inside), { as: "applied" });
    if (reading.questions.length > 0) throw new QuestionError(reading.questions, reading.notices);
    if (reading.taken?.role !== "applied" || reading.taken.log === null) throw new Error(`${called}: no log`);
    return { log: reading.taken.log, notices: reading.notices };
  });
  return {
    product,
    log: logsAsOne(readings.map(({ log }) => log)),
    notices: readings.flatMap(({ notices }) =>
      notices.map((one) => ({ ...one, message: `${product}: ${one.message}` })),
    ),
  };
}

/** A log a file, the parts of a shapefile together; the files of task data are one. */
function logFiles(
  name: string,
  files: readonly NamedFile[],
): readonly (readonly [called: string, files: readonly NamedFile[]])[] {
  if (files.some(([path]) => /(^|\/)taskdata\.xml$/i.test(path))) return [[name, files]];
  const packed = packShapefiles(files);
  if (packed.length < 2) return [[name, files]];
  return packed.map(([path, bytes]) => [path, [[path, Uint8Array.from(bytes)]]] as const);
}
