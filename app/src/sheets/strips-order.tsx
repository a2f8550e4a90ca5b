import { lengthText, numberText } from "#core";
import type { PassLines, PassRun } from "../engine/protocol.ts";
import { Fold } from "../parts/fold.tsx";
import { NotYet } from "../parts/not-yet.tsx";
import { words } from "../state/figures.ts";
import { field } from "../state/results.ts";
import { settings } from "../state/settings.ts";

/** The passes in working order, each with its stretches and their rates of the product on the plat. */
export function PassOrder({ product }: { readonly product: string }) {
  return (
    <Fold class="small" title="Passes in working order">
      <OrderTable product={product} />
    </Fold>
  );
}

function OrderTable({ product }: { readonly product: string }) {
  const shown = field.value;
  const passes = shown?.passes;
  const layer = shown?.layers.find(({ layer: one }) => one.id === `strip/${product}`)?.layer;
  if (!passes || !layer) return <NotYet />;
  return (
    <table class="order">
      <thead>
        <tr>
          <th scope="col" class="figure">
            order
          </th>
          <th scope="col">pass</th>
          <th scope="col" class="figure">
            {words().length}
          </th>
          <th scope="col">
            {product}, {words().rate} × {words().length}
          </th>
        </tr>
      </thead>
      <tbody>
        {passes.runs.map((run, k) => (
          <tr key={k}>
            <td class="figure">{k + 1}</td>
            <th scope="row">
              {nameOf(run)}
              {!counts(passes, run) && <span class="under">under 1 m² of the edge: not driven</span>}
            </th>
            <td class="figure">{lengthText(lengthOf(passes, run), settings.value.system)}</td>
            <td>{stretchesInWords(passes, run, layer.values)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** `H1` is the outermost headland pass; an arrow says which way a pass is driven from A. */
const nameOf = ({ kind, pass, forward }: PassRun): string =>
  kind === "headland" ? `H${pass}` : `${numberText(pass, 0)} ${forward ? "A → B" : "B → A"}`;

/** Beyond the first and the last pass the edge leaves a strip too narrow to drive. */
const counts = ({ numbers }: PassLines, { kind, pass }: PassRun): boolean =>
  kind === "headland" || (numbers !== null && pass >= numbers[0] && pass <= numbers[1]);

const lengthOf = ({ lengthM }: PassLines, { segments }: PassRun): number =>
  segments.reduce((sum, k) => sum + lengthM[k]!, 0);

/** Neighbours of one rate together, in the order driven; of many the first few and how many more. */
function stretchesInWords({ lengthM }: PassLines, { segments }: PassRun, values: Float64Array): string {
  const stretches: { value: number; metres: number }[] = [];
  for (const k of segments) {
    const last = stretches.at(-1);
    if (last && Math.abs(last.value - values[k]!) < 1e-9) last.metres += lengthM[k]!;
    else stretches.push({ value: values[k]!, metres: lengthM[k]! });
  }
  const { system } = settings.value;
  const shown = stretches.slice(0, MOST_SHOWN);
  const more = stretches.length - shown.length;
  const words = shown.map(({ value, metres }) => `${numberText(value, 0)} × ${lengthText(metres, system)}`);
  return `${words.join("; ")}${more > 0 ? `; ${more} more` : ""}`;
}

const MOST_SHOWN = 12;
