import { createUnitClass } from 'mathjs';

/** The part of mathjs' Unit that is used here. */
export interface MathUnit {
  equalBase(other: MathUnit): boolean;
  toNumber(unit: string): number;
}
interface MathUnitClass {
  new (value: number, unit: string): MathUnit;
  createUnitSingle(name: string, options: { readonly definition: string }): void;
}

// The factory is exported by mathjs but missing from its type declarations.
declare module 'mathjs' {
  export function createUnitClass(parts: Record<string, unknown>): MathUnitClass;
}

// mathjs' own wiring of Unit brings matrices, fractions and big numbers along (230 kB, 0.1 s). Given plain-number
// arithmetic, the same class is 45 kB and loads in a few milliseconds.
class Unused {}
/** mathjs holds 5/9 (degF, degR) as a fraction; it only ever asks for its number. */
class Fraction {
  constructor(
    private readonly n: number,
    private readonly d = 1,
  ) {}
  valueOf(): number {
    return this.n / this.d;
  }
}
export const Unit: MathUnitClass = createUnitClass({
  config: { number: 'number', predictable: false },
  addScalar: (a: number, b: number) => a + b,
  subtractScalar: (a: number, b: number) => a - b,
  multiplyScalar: (a: number, b: number) => a * b,
  divideScalar: (a: number, b: number) => a / b,
  pow: (a: number, b: number) => a ** b,
  abs: Math.abs,
  fix: Math.trunc,
  round: Math.round,
  equal: (a: number, b: number) => a === b,
  isNumeric: (v: unknown) => typeof v === 'number',
  format: String,
  number: Number,
  Complex: Unused,
  BigNumber: Unused,
  Fraction,
});

Unit.createUnitSingle('knot', { definition: '1852 m/hour' });

/** The unit, or undefined when mathjs does not know it. Only a unit may stand in `text`: no number, no expression. */
export function unitOf(value: number, text: string): MathUnit | undefined {
  if (!/^[A-Za-z][A-Za-z0-9^/* ]*$/.test(text)) return undefined;
  try {
    return new Unit(value, text);
  } catch {
    return undefined;
  }
}
