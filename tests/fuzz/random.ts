/** A stream of draws that is the same for the same seed on any machine (mulberry32, public domain). */
export class Draw {
  private state: number;

  constructor(...seeds: readonly (number | string)[]) {
    // FNV-1a over the seeds: neighbouring numbers give unlike streams.
    this.state = 2166136261;
    for (const character of seeds.join('/'))
      this.state = Math.imul(this.state ^ character.charCodeAt(0), 16777619) >>> 0;
  }

  /** 0 <= x < 1 */
  next(): number {
    this.state = (this.state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(this.state ^ (this.state >>> 15), this.state | 1);
    t = (t + Math.imul(t ^ (t >>> 7), t | 61)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  }

  /** a whole number from 0, `below` not included */
  whole(below: number): number {
    return Math.floor(this.next() * below);
  }

  one<T>(items: readonly T[]): T {
    return items[this.whole(items.length)]!;
  }

  chance(share: number): boolean {
    return this.next() < share;
  }
}
