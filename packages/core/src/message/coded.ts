/**
 * Something to tell a user, as data: a stable code, and what a sentence about it needs, in the library's fixed units. The
 * wording is the caller's. `Args` maps each code to its arguments.
 */
export type Coded<Args> = {
  [Code in keyof Args & string]: { readonly code: Code; readonly args: Args[Code] };
}[keyof Args & string];

/** Arguments of a code that needs none. */
export type NoArgs = Readonly<Record<string, never>>;
