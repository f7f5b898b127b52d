import type { Coded } from '@stayput/core/model';

/** A sentence for each code, made of its arguments. */
export type Words<Args> = { readonly [Code in keyof Args & string]: (args: Args[Code]) => string };

/** What core says as data, in words. */
export function sentence<Args>(words: Words<Args>, { code, args }: Coded<Args>): string {
  return words[code](args);
}
