import type { Notice } from "../errors/index.ts";

interface RowTool {
  readonly rows: number;
  readonly rowSpacingIn: number;
}

/** How crop rows meet the strips: drilled has no rows to speak of. */
interface PlantedCrop extends RowTool {
  readonly drilled?: boolean;
  /** Whether both are steered by the same guidance line. */
  readonly sameLine?: boolean;
}

/**
 * Whether a planter can follow the strips. Common practice: same row spacing; same rows, or one a whole multiple of the
 * other so that the wider one's passes begin where the narrower one's do; same guidance line. Soybean in 15-in. rows over
 * 30-in. strips has every second row beside a strip; drilled, most. Empty when they match.
 */
export const planterMatch = (strips: RowTool, planter: PlantedCrop): Notice[] => {
  const notices: Notice[] = [];
  const say = (code: string, message: string): void => {
    notices.push({ code, message, where: "planter" });
  };
  const spacings = `${planter.rowSpacingIn} in. over strips of ${strips.rowSpacingIn} in.`;
  if (planter.drilled === true) {
    say("planter-drilled", `Drilled at ${spacings} most seed stands off the strip: the band feeds few rows.`);
  } else if (planter.rowSpacingIn * 2 === strips.rowSpacingIn) {
    say("planter-half-rows", `Rows of ${spacings} put every second row midway between strips.`);
  } else if (planter.rowSpacingIn !== strips.rowSpacingIn) {
    say("planter-spacing", `Rows of ${spacings} do not meet: use one spacing for both.`);
  }
  const [narrow, wide] = [strips, planter]
    .map(({ rows, rowSpacingIn }) => rows * rowSpacingIn)
    .sort((a, b) => a - b) as [number, number];
  if (planter.drilled !== true && wide % narrow !== 0) {
    say(
      "planter-rows",
      `${planter.rows} planter rows (${planter.rows * planter.rowSpacingIn} in.) and ${strips.rows} strips (${strips.rows * strips.rowSpacingIn} in.): neither width is a multiple of the other, so guess rows of the one fall inside a pass of the other.`,
    );
  } else if (planter.drilled !== true && wide !== narrow && (wide / narrow) % 2 === 0) {
    const half = narrow / 2;
    say(
      "planter-line-offset",
      `One width is ${wide / narrow} times the other: the guidance line of the wider must lie ${half} in. to the side, on an edge of the narrower one's pass.`,
    );
  }
  if (planter.sameLine === false) {
    say(
      "planter-other-line",
      "The planter is steered by another line: load the line the strips were made on.",
    );
  }
  return notices;
};
