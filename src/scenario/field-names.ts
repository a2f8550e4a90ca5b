import type { Random } from "./random.ts";

/** Invented; landscape words only. */
const FIRST =
  "North South East West Upper Lower Long Short Far Near Middle Back High Low Old New Crooked Broad Narrow Dry Wet Stony Sandy Windy".split(
    " ",
  );
const SECOND =
  "Kettle,Swale,Knob,Bend,Marsh,Ridge,Flat,Hollow,Orchard,Windmill,Schoolhouse,Culvert,Trestle,Switch,Sawmill,Otter,Heron,Walnut,Willow,Plum,Bur Oak,Cattail,Gravel,Silo,Corncrib,Crossing,Lane,Spring,Meander,Prairie,Elevator,Haymow".split(
    ",",
  );
const SIZES: readonly (readonly [word: string, least: number, most: number])[] = [
  ["Twenty", 17, 22],
  ["Forty", 34, 42],
  ["Eighty", 68, 82],
  ["Quarter", 138, 160],
  ["Half", 270, 320],
];

/** A name for each field, no two alike; some tell the size, as names on farms do. */
export function fieldNames(random: Random, acres: readonly number[]): string[] {
  const taken = new Set<string>();
  return acres.map((area) => {
    const size = SIZES.find(([, least, most]) => area >= least && area <= most)?.[0];
    for (;;) {
      const first = FIRST[random.below(FIRST.length)]!;
      const second = SECOND[random.below(SECOND.length)]!;
      const style = random.uniform();
      const sized = style < 0.25 ? `${first} ${size}` : style < 0.5 ? `${second} ${size}` : undefined;
      const name = size !== undefined && sized !== undefined ? sized : `${first} ${second}`;
      if (taken.has(name)) continue;
      taken.add(name);
      return name;
    }
  });
}
