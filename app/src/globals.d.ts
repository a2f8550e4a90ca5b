/** The tool's version, put in by the build. */
declare const __TOOL_VERSION__: string;
