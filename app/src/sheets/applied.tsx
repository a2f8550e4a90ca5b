import { type Signal, signal } from "@preact/signals";
import {
  capital,
  lagInWords,
  noCatchUpInWords,
  nothingLaidInWords,
  numberText,
  offInWords,
  oxideText,
  roundTo,
} from "#core";
import type { AppliedShown, AppliedView } from "../engine/season-protocol.ts";
import { gatherLog } from "../open/gather.ts";
import { Bench, BigNumber } from "../parts/bench.tsx";
import { ChoiceLine } from "../parts/choice-line.tsx";
import { FigureHeads } from "../parts/figure-heads.tsx";
import { Notices } from "../parts/notices.tsx";
import { TroubleWords } from "../parts/trouble-words.tsx";
import { answerOrTrouble } from "../state/ask-season.ts";
import { appliedShown, chooseLog, chosenLogs, logBeingRead, refusedLog } from "../state/chosen-logs.ts";
import { download } from "../state/download.ts";
import { area, mass, massShown, words } from "../state/figures.ts";
import { planField } from "../state/look.ts";
import { plan } from "../state/opened.ts";
import { refusal } from "../state/results.ts";
import { productChosen, productShown, seasonTrouble } from "../state/season-state.ts";
import { settings } from "../state/settings.ts";

/** What the ground got by the logs, and what is still missing. */
export function AppliedSheet() {
  const { id, name } = planField.value!;
  const logs = chosenLogs.value;
  const shown = logs.length > 0 && appliedShown.value?.field === id ? appliedShown.value : null;
  const missing = shown?.products.reduce((sum, one) => sum + one.missingLb, 0);
  return (
    <Bench
      title="Applied"
      aside={<span class="second">{name}</span>}
      actions={
        <button
          type="button"
          class="action"
          disabled={
            shown === null ||
            shown.waitsFor !== null ||
            shown.graveDoubt !== null ||
            shown.catchUp.length === 0 ||
            refusal.value !== null
          }
          onClick={() => void saveCatchUp(id)}
        >
          Make catch-up map
        </button>
      }
    >
      {missing !== undefined && (
        <BigNumber value={mass(missing)} words={`${words().mass} in the strip not placed`} />
      )}
      <LogChoice field={id} />
      <RefusedLog field={id} />
      {seasonTrouble.value && (
        <div class="doubt" role="alert">
          <TroubleWords of={seasonTrouble.value} />
        </div>
      )}
      {shown && shown.products.length > 1 && (
        <ChoiceLine
          label="On the plat"
          about="Product on the plat"
          value={productShown.value?.product ?? ""}
          options={shown.products.map(({ product }) => [product, product] as const)}
          onChoose={(product) => {
            productChosen.value = product;
          }}
        />
      )}
      {shown?.graveDoubt != null && (
        <p class="flag-text" role="status">
          No catch-up map is made of these logs: {shown.graveDoubt}. Choose for each product the log that is
          of it; where these are right all the same, bermplan applied makes the map on the command line.
        </p>
      )}
      {shown && <Notices notices={shown.notices} />}
      {shown?.products.map((one) => (
        <ProductPart key={one.product} applied={one} of={shown} />
      ))}
      {shown && <Balance shown={shown} />}
      {!shown && (
        <p class="second">
          Choose the logs of the work done in the strips, all files of a product at once: CSV, a zipped
          shapefile of points, or a zip of TASKDATA. Scale tickets, what is left to strip and the ledger are
          on the command line: bermplan applied, remainder, ledger.
        </p>
      )}
    </Bench>
  );
}

/** A log a product. */
function LogChoice({ field }: { readonly field: string }) {
  const of = plan.value!;
  const reading = logBeingRead.value;
  return (
    <dl class="lines">
      {[...new Set(of.rig.bins.map((bin) => bin.product))].map((product) => {
        const chosen = chosenLogs.value.find((one) => one.product === product);
        return (
          <div key={product}>
            <dt>{product}</dt>
            <dd class="file-of">
              <span>
                {reading?.field === field && reading.product === product ? "reading …" : chosen?.name}
              </span>
              <span class="aside" aria-hidden="true">
                {chosen ? "Other log" : "Choose log"}
              </span>
              <input
                type="file"
                aria-label={`Log of ${product}`}
                multiple
                onChange={(event) => {
                  const { files } = event.currentTarget;
                  if (!files || files.length === 0) return;
                  const chosenNow = gatherLog(files);
                  // The same file can be chosen again.
                  event.currentTarget.value = "";
                  void chosenNow.then(({ name, files: read }) =>
                    chooseLog(field, { product, name, files: read }),
                  );
                }}
              />
            </dd>
          </div>
        );
      })}
    </dl>
  );
}

/** A log that could not be taken, and which one counts in its place. */
function RefusedLog({ field }: { readonly field: string }) {
  const refused = refusedLog.value;
  if (refused?.field !== field) return null;
  const { product, name, trouble } = refused;
  const stays = chosenLogs.value.find((one) => one.product === product);
  return (
    <div class="doubt" role="alert">
      <p>
        “{name}” is not taken as the log of {product};{" "}
        {stays ? `“${stays.name}” still counts.` : `${product} has no log.`}
      </p>
      <TroubleWords of={trouble} />
    </div>
  );
}

function ProductPart({ applied, of }: { readonly applied: AppliedShown; readonly of: AppliedView }) {
  const { notDrivenAc, areLogsMissing } = of;
  return (
    <>
      <h3>{applied.product}</h3>
      <ul class="small">
        <li>
          {mass(applied.placedLb)} {words().mass} placed, {mass(applied.plannedLb)} planned
          {offInWords(applied)}; {mass(applied.missingLb)} missing in places, {mass(applied.overLb)} over in
          others.
        </li>
        <li>
          The log has {mass(applied.loggedLb)}: {mass(applied.insideLb)} in the field and{" "}
          {numberText(
            Math.max(0, roundTo(massShown(applied.loggedLb), 0) - roundTo(massShown(applied.insideLb), 0)),
            0,
          )}{" "}
          outside.
        </li>
        <li>
          Covered {area(applied.coveredAc)} {words().area}
          {nothingLaidInWords(applied, settings.value.system)},{" "}
          {notDrivenAc > 0 &&
            `${areLogsMissing ? "not in these logs" : "not driven yet"} ${area(notDrivenAc)}, `}
          skipped {area(Math.max(0, applied.skippedAc - notDrivenAc), 2)}, twice{" "}
          {area(applied.overlappedAc, 2)}.
        </li>
        <li>{capital(lagInWords(applied.lag))}.</li>
      </ul>
    </>
  );
}

/**
 * need = strip + catch-up + credits + short - over - rounding, and which map the catch-up takes the place of. Before the whole
 * strip pass is in the logs there is no catch-up to reckon with.
 */
function Balance({ shown }: { readonly shown: AppliedView }) {
  const isHeldBack = shown.waitsFor !== null;
  return (
    <>
      <h3>Catch-up</h3>
      <table>
        <thead>
          <tr>
            <th scope="col">{words().mass} of</th>
            <FigureHeads
              of={["need", "in the strip", ...(isHeldBack ? [] : ["to broadcast", "short", "over"])]}
            />
          </tr>
        </thead>
        <tbody>
          {shown.balances.map((one) => (
            <tr key={one.nutrient}>
              <th scope="row">{oxideText(one.nutrient)}</th>
              <td class="figure">{mass(one.needLb)}</td>
              <td class="figure">{mass(one.stripLb)}</td>
              {!isHeldBack && (
                <>
                  <td class="figure">
                    <b>{mass(one.broadcastLb)}</b>
                  </td>
                  <td class="figure">{mass(one.shortageLb)}</td>
                  <td class="figure">{mass(one.excessLb)}</td>
                </>
              )}
            </tr>
          ))}
        </tbody>
      </table>
      {shown.waitsFor !== null && <p>{noCatchUpInWords(shown.waitsFor, shown.voids)}</p>}
      {!isHeldBack && shown.graveDoubt === null && shown.toDelete !== null && (
        <p class="flag-text">
          {shown.catchUp.length === 0
            ? `${shown.voids.join(", ")} ${shown.voids.length === 1 ? "is" : "are"} not to be spread any more`
            : `${shown.catchUp.map((map) => map.stem).join(", ")} ${shown.catchUp.length === 1 ? "takes" : "take"} the place of ${shown.voids.join(", ")}`}
          : delete {shown.toDelete.what} from stick and display first{shown.toDelete.onStick}.
          {shown.catchUp.length > 0 &&
            madeOf.value?.key !== keyOf(shown) &&
            " Copy the catch-up maps by hand onto an empty stick; which files, is told here once they are made."}
        </p>
      )}
      {madeOf.value?.key === keyOf(shown) && (
        <ul class="flag-text" aria-label="What to copy of the catch-up maps">
          {madeOf.value.said.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
      )}
    </>
  );
}

/** What was told of the zip made last, and of which catch-up. */
const madeOf: Signal<{ readonly key: string; readonly said: readonly string[] } | null> = signal(null);

const keyOf = ({ field, catchUp }: AppliedView): string => JSON.stringify([field, catchUp]);

async function saveCatchUp(field: string): Promise<void> {
  const { told, trouble } = await answerOrTrouble({
    kind: "applied",
    field,
    logs: chosenLogs.value,
    isSaved: true,
  });
  seasonTrouble.value = trouble;
  if (told?.kind !== "applied" || !told.zip) return;
  download(told.zip.name, told.zip.bytes, "application/zip");
  madeOf.value = { key: keyOf(told), said: told.zip.said };
}
