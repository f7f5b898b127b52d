/** Changes to a file: `path=value` each, or values by path, as the file would write them. */
export type Settings = readonly string[] | Readonly<Record<string, unknown>>;
