/** No load draws more, written as a power or as an expression [W]. */
export const MAX_LOAD_W = 20_000;
