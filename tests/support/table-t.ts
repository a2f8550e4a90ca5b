/** Table T of tests/data/chain-need/README.md, soybean: our invention. */
export const tableT = {
  id: "table-t",
  name: "Table T",
  tables: [
    {
      test: "P",
      crop: "soybean",
      method: "mehlich-3",
      belowPpm: [6, 8, 10, 13],
      lbPerAc: [90, 65, 45, 20, 0],
    },
    {
      test: "K",
      crop: "soybean",
      method: "mehlich-3",
      belowPpm: [120, 150, 180, 230],
      lbPerAc: [120, 95, 70, 35, 0],
    },
  ],
} as const;
