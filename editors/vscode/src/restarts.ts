/** How often a server that dies is started again: at most `most` times within `within` milliseconds. */
export class Restarts {
  readonly most: number;
  private readonly within: number;
  private deaths: number[] = [];

  constructor(most: number, within: number) {
    this.most = most;
    this.within = within;
  }

  /** Notes a death, and says whether to start again. */
  died(now: number): boolean {
    this.deaths = this.deaths.filter((at) => now - at < this.within);
    this.deaths.push(now);
    return this.deaths.length <= this.most;
  }

  forget(): void {
    this.deaths = [];
  }
}
