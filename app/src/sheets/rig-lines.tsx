import { binsWithoutDensity, counted, missingRigKeys, operationsDefault, type Plan } from "#core";
import { FigureLine, NeededLine, PickLine } from "../parts/figure-line.tsx";
import { withRigKeys } from "../state/implement-edits.ts";
import { edit, plan } from "../state/opened.ts";
import { FIRST_TENDER_LB, withBin, withRigWork, withTender } from "../state/rig-edits.ts";
import { said } from "../state/said.ts";

const defaultOf = (key: string, per = 1): string => {
  const { value, status } = operationsDefault(key);
  return `${Number((value * per).toPrecision(4))}${status === "unconfirmed" ? ", unconfirmed" : ""}`;
};

interface BinFigure {
  readonly key:
    | "volumeFt3"
    | "lbPerFt3"
    | "mostLb"
    | "meterMaxLbPerMin"
    | "meterMinLbPerMin"
    | "filledShare"
    | "residualLb";
  readonly label: string;
  readonly unit: string;
  readonly least?: number;
  readonly most?: number;
  readonly step?: number;
  readonly otherwise?: string;
  /** Of the edit: `bin L 105 ft³`. */
  readonly name: (bin: string, value: string) => string;
}

/** What is told of every bin, a figure a line. */
const BIN_FIGURES: readonly BinFigure[] = [
  {
    key: "volumeFt3",
    label: "struck volume",
    unit: "ft³",
    least: 0.1,
    name: (bin, value) => `bin ${bin} ${value} ft³`,
  },
  {
    key: "lbPerFt3",
    label: "weighed density",
    unit: "lb/ft³",
    least: 1,
    otherwise: "published range, unconfirmed",
    name: (bin, value) => `bin ${bin} density ${value} lb/ft³`,
  },
  {
    key: "mostLb",
    label: "most it may hold",
    unit: "lb",
    least: 1,
    otherwise: "no limit",
    name: (bin, value) => `bin ${bin} holds ${value} lb`,
  },
  {
    key: "meterMaxLbPerMin",
    label: "most its meter lays",
    unit: "lb/min",
    least: 1,
    otherwise: "not told",
    name: (bin, value) => `meter ${bin} ${value} lb/min`,
  },
  {
    key: "meterMinLbPerMin",
    label: "least its meter lays",
    unit: "lb/min",
    least: 0.1,
    otherwise: "not told",
    name: (bin, value) => `meter ${bin} least ${value} lb/min`,
  },
  {
    key: "filledShare",
    label: "filled, share of the struck volume",
    unit: "",
    least: 0.01,
    most: 1.5,
    step: 0.01,
    otherwise: defaultOf("fillFactor"),
    name: (bin, value) => `bin ${bin} filled to ${value}`,
  },
  {
    key: "residualLb",
    label: "cannot be metered out",
    unit: "lb",
    otherwise: defaultOf("residualLb"),
    name: (bin, value) => `bin ${bin} keeps ${value} lb`,
  },
];

/** What the plan lacks before fills and days are known, to stand after "type": `bin volumes and speed`. */
export function rigWanted(of: Plan): string {
  const densities = binsWithoutDensity(of).map(
    ({ bin, products, blend }) =>
      `the weighed density of ${blend === undefined ? "" : `the blend ${blend} in `}bin ${bin} (none of ${products.join(" and ")}${blend === undefined ? "" : " in it"} is published)`,
  );
  const isSized = missingRigKeys(of).length === densities.length;
  return [...(isSized ? [] : ["bin volumes and speed"]), ...densities].join(", ");
}

/** Hoppers, speed, stops and tenders, as far as somebody told; split and fills both hang on them. */
export function RigLines() {
  const of = plan.value!;
  const { rig, tender } = of;
  const work = rig.work;
  const unknown = binsWithoutDensity(of);
  /** A range stands for what was not weighed only where one is published. */
  const unweighed = (bin: string): { readonly otherwise?: string } => {
    const none = unknown.find((one) => one.bin === bin);
    if (none === undefined) return {};
    const what = none.blend === undefined ? "it" : `the blend ${none.blend}`;
    return { otherwise: `none of ${none.products.join(" and ")} is published, weigh ${what}` };
  };
  /** A meter's least is not above its most, as the plan's schema has it. */
  const besideOther = (bin: Plan["rig"]["bins"][number], key: BinFigure["key"]) => ({
    ...(key === "meterMinLbPerMin" && bin.meterMaxLbPerMin ? { most: bin.meterMaxLbPerMin } : {}),
    ...(key === "meterMaxLbPerMin" && bin.meterMinLbPerMin ? { least: bin.meterMinLbPerMin } : {}),
  });
  const firstWords = tender ? "" : `, ${said(FIRST_TENDER_LB)} lb each assumed`;
  return (
    <dl class="lines">
      <FigureLine
        label="Speed"
        unit="mph"
        value={work?.mph ?? null}
        least={0.5}
        most={25}
        onTake={(mph) => edit(withRigWork(of, { mph }, `speed ${said(mph)} mph`))}
      />
      {BIN_FIGURES.flatMap(({ key, label, name, ...line }) =>
        rig.bins.map((bin) => (
          <FigureLine
            key={`${bin.id} ${key}`}
            label={`Bin ${bin.id}${key === "volumeFt3" ? `, ${bin.product}` : ""}: ${label}`}
            value={bin[key] ?? null}
            onTake={(value) => edit(withBin(of, bin.id, { [key]: value }, name(bin.id, said(value))))}
            {...line}
            {...besideOther(bin, key)}
            {...(key === "lbPerFt3" ? unweighed(bin.id) : {})}
          />
        )),
      )}
      <FigureLine
        label="All bins may hold together"
        unit="lb"
        value={rig.carriesLb ?? null}
        least={1}
        otherwise="no limit"
        onTake={(carriesLb) => edit(withRigKeys(of, { carriesLb }, `rig carries ${said(carriesLb)} lb`))}
      />
      {rig.bins.length > 1 && (
        <PickLine
          label="The bins are"
          value={rig.movableWall ? "wall" : "apart"}
          options={[
            ["apart", "boxes of their own"],
            ["wall", "one box with a movable wall"],
          ]}
          onChoose={(kind) =>
            edit(
              withRigKeys(
                of,
                { movableWall: kind === "wall" ? true : null },
                kind === "wall" ? "one box with a movable wall" : "bins apart",
              ),
            )
          }
        />
      )}
      {work && (
        <>
          <FigureLine
            label="Share of width × speed left after turns"
            unit=""
            value={work.turnEfficiency ?? null}
            least={0.1}
            most={1}
            otherwise={defaultOf("turnEfficiency")}
            onTake={(turnEfficiency) =>
              edit(withRigWork(of, { turnEfficiency }, `turn efficiency ${said(turnEfficiency)}`))
            }
          />
          <FigureLine
            label="Hours a day"
            unit="h"
            value={work.hoursPerDay ?? null}
            least={0.5}
            most={24}
            otherwise={defaultOf("hoursPerDay")}
            onTake={(hoursPerDay) => edit(withRigWork(of, { hoursPerDay }, `day of ${said(hoursPerDay)} h`))}
          />
          <FigureLine
            label="Minutes a stop without the transfer"
            unit="min"
            value={work.minutesPerStop ?? null}
            otherwise={defaultOf("fixedHoursPerStop", 60)}
            onTake={(minutesPerStop) =>
              edit(withRigWork(of, { minutesPerStop }, `stop of ${said(minutesPerStop)} min`))
            }
          />
          <FigureLine
            label="Kept back, share of a load"
            unit=""
            value={work.reserveShare ?? null}
            most={0.5}
            step={0.01}
            otherwise={defaultOf("reserveShare")}
            onTake={(reserveShare) =>
              edit(withRigWork(of, { reserveShare }, `reserve ${said(reserveShare)} of a load`))
            }
          />
          <FigureLine
            label="From tender to bin"
            unit="lb/min"
            value={work.fillLbPerMin ?? null}
            least={1}
            otherwise={defaultOf("transferLbPerHour", 1 / 60)}
            onTake={(fillLbPerMin) =>
              edit(withRigWork(of, { fillLbPerMin }, `transfer ${said(fillLbPerMin)} lb/min`))
            }
          />
        </>
      )}
      <FigureLine
        label="Tenders (empty: product always at hand)"
        unit=""
        value={tender?.count ?? null}
        least={1}
        most={20}
        onTake={(count) =>
          edit(
            count === null
              ? withTender(of, null, "product always at hand")
              : withTender(
                  of,
                  { count: Math.round(count) },
                  `${counted(Math.round(count), "tender")}${firstWords}`,
                ),
          )
        }
      />
      {tender && (
        <>
          <NeededLine
            label="A tender brings"
            unit="lb"
            value={tender.lb}
            least={1}
            onTake={(lb) => edit(withTender(of, { lb }, `tender of ${said(lb)} lb`))}
          />
          <FigureLine
            label="It is away to reload"
            unit="min"
            value={tender.tripMin ?? null}
            otherwise={defaultOf("tripHours", 60)}
            onTake={(tripMin) => edit(withTender(of, { tripMin }, `tender away ${said(tripMin)} min`))}
          />
          <PickLine
            label="It is reached"
            value={tender.reachedAt ?? ""}
            options={[
              ["", "anywhere"],
              ["both-ends", "at both ends of the passes"],
              ["one-end", "at one end"],
            ]}
            onChoose={(at) =>
              edit(
                withTender(
                  of,
                  { reachedAt: at === "" ? null : (at as "both-ends" | "one-end") },
                  `tender reached ${at === "" ? "anywhere" : at.replace("-", " ")}`,
                ),
              )
            }
          />
        </>
      )}
    </dl>
  );
}
