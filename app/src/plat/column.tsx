import { wantedLayers } from "../state/look.ts";
import { comparedWith, drawnNow } from "../state/map-before.ts";
import { plan } from "../state/opened.ts";
import { field } from "../state/results.ts";
import { here } from "../state/route.ts";
import { productShown } from "../state/season-state.ts";
import { AppliedColumn } from "./applied-column.tsx";
import { BeforeBox, CompareButton } from "./before-box.tsx";
import { ClassTable } from "./class-limits.tsx";
import { FarmLegend, OrderLegend } from "./farm-legend.tsx";
import { Inset } from "./inset.tsx";
import { LegendBox } from "./legend-box.tsx";
import { redraws } from "./marks.tsx";
import { OddsBox } from "./odds-box.tsx";
import { ReadOutBox } from "./read-out-box.tsx";
import { TwinButton } from "./twin-button.tsx";

/** Legend, insets and read-out at the plat's right; nothing covers the field. */
export function Column() {
  const { sheet } = here.value;
  const of = plan.value;
  const shown = field.value;
  if (sheet === "farm") return <div class="column">{of && <FarmLegend />}</div>;
  if (sheet === "order") return <div class="column">{of && <OrderLegend />}</div>;
  if (productShown.value) return <AppliedColumn />;
  const drawn = drawnNow.value;
  const inset = shown?.layers.find(({ layer }) => layer.id === wantedLayers.value.inset);
  return (
    <div class="column" onScroll={() => redraws.value++}>
      {inset && shown && comparedWith.value === null && <Inset drawn={inset} ground={shown.ground} />}
      {drawn && (comparedWith.value === null ? <LegendBox drawn={drawn} /> : <BeforeBox drawn={drawn} />)}
      {drawn && comparedWith.value === null && <TwinButton />}
      <CompareButton />
      {drawn && <ClassTable layer={drawn.layer} />}
      {sheet === "soil" && drawn && <OddsBox test={drawn.layer.id.split("/")[1]!} />}
      <ReadOutBox />
    </div>
  );
}
