/** Whether a path is that of a plan, in whatever folder. */
export const isPlanFile = (path: string): boolean => path === "plan.json" || path.endsWith("/plan.json");
