export { fromPanels, panelSize, toPanels } from "./panels.ts";
export { openWorkspace, type Workspace } from "./workspace.ts";
