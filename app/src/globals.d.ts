/** The tool's version, put in by the build. */
declare const __TOOL_VERSION__: string;

/** Where the build put a file that is fetched by itself. */
declare module "*?url" {
  const address: string;
  export default address;
}
