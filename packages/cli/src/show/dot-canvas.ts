/** How one character is divided into dots. */
interface Grain {
  readonly across: number;
  readonly down: number;
  /** the character for a set of dots; bit = column * down + row, from the top left */
  readonly sign: (bits: number) => string;
}

/** Unicode Braille patterns, 2 by 4 dots; U+2800 plus one bit a dot in the standard's own order. */
const BRAILLE_BIT = [0x01, 0x02, 0x04, 0x40, 0x08, 0x10, 0x20, 0x80] as const;
export const BRAILLE: Grain = {
  across: 2,
  down: 4,
  sign: (bits) =>
    String.fromCharCode(0x2800 + BRAILLE_BIT.reduce((sum, bit, k) => (bits & (1 << k) ? sum + bit : sum), 0)),
};

/** Two dots one above the other, in ASCII. */
export const ASCII_DOTS: Grain = { across: 1, down: 2, sign: (bits) => [' ', "'", '.', ':'][bits]! };

/** A field of dots drawn with characters. */
export class DotCanvas {
  readonly dotsAcross: number;
  readonly dotsDown: number;
  readonly #bits: Uint8Array;

  constructor(
    readonly columns: number,
    readonly rows: number,
    readonly grain: Grain,
  ) {
    this.dotsAcross = columns * grain.across;
    this.dotsDown = rows * grain.down;
    this.#bits = new Uint8Array(columns * rows);
  }

  /** Sets a vertical stroke of dots, both ends included; y from the bottom. */
  stroke(x: number, fromY: number, toY: number): void {
    const { across, down } = this.grain;
    for (let y = fromY; y <= toY; y++) {
      const fromTop = this.dotsDown - 1 - y;
      const cell = Math.floor(fromTop / down) * this.columns + Math.floor(x / across);
      this.#bits[cell] = this.#bits[cell]! | (1 << ((x % across) * down + (fromTop % down)));
    }
  }

  /** The character of a cell, or undefined when it is empty. */
  at(column: number, row: number): string | undefined {
    const bits = this.#bits[row * this.columns + column]!;
    return bits === 0 ? undefined : this.grain.sign(bits);
  }
}
