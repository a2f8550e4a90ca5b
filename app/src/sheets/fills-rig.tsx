import { NeededLine } from "../parts/figure-line.tsx";
import { edit, plan } from "../state/opened.ts";
import { withBinVolume, withDensity, withTender, withWork } from "../state/season-edits.ts";

/** What the fills hang on: bins, speed, stop, tender. */
export function RigPart({ isOpen }: { readonly isOpen: boolean }) {
  const of = plan.value!;
  const { bins, work } = of.rig;
  return (
    <details open={isOpen}>
      <summary>Bins, speed and tender</summary>
      <dl class="lines">
        {bins.map((bin, b) => (
          <NeededLine
            key={bin.id}
            label={`Bin ${bin.id}, ${bin.product}, struck volume`}
            unit="ft3"
            value={bin.volumeFt3}
            least={1}
            onTake={(value) => edit(withBinVolume(of, b, value))}
          />
        ))}
        {bins.map((bin, b) => (
          <NeededLine
            key={bin.id}
            label={`${bin.product}, weighed density`}
            unit="lb/ft3"
            value={bin.lbPerFt3}
            least={10}
            onTake={(value) => edit(withDensity(of, b, value))}
          />
        ))}
        <NeededLine
          label="Working speed"
          unit="mph"
          value={work?.mph}
          least={0.5}
          onTake={(value) => edit(withWork(of, "mph", value))}
        />
        <NeededLine
          label="Stop without filling"
          unit="min"
          value={work?.minutesPerStop}
          onTake={(value) => edit(withWork(of, "minutesPerStop", value))}
        />
        <NeededLine
          label="Filling"
          unit="lb/min"
          value={work?.fillLbPerMin}
          least={1}
          onTake={(value) => edit(withWork(of, "fillLbPerMin", value))}
        />
        <NeededLine
          label="Working hours a day"
          unit="h"
          value={work?.hoursPerDay}
          least={1}
          onTake={(value) => edit(withWork(of, "hoursPerDay", value))}
        />
        <NeededLine
          label="Tenders"
          unit=""
          value={of.tender?.count}
          least={1}
          onTake={(value) => edit(withTender(of, "count", Math.round(value)))}
        />
        <NeededLine
          label="A tender brings"
          unit="lb"
          value={of.tender?.lb}
          least={1}
          onTake={(value) => edit(withTender(of, "lb", value))}
        />
        <NeededLine
          label="A tender's trip"
          unit="min"
          value={of.tender?.tripMin}
          onTake={(value) => edit(withTender(of, "tripMin", value))}
        />
      </dl>
      <p class="second small">
        What is not typed has a default, named below. Without a tender product is always at hand.
      </p>
    </details>
  );
}
