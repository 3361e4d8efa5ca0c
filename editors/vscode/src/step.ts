/**
 * The place to go to from one place among others, in their order, beginning
 * again at the other end. Undefined where there is none. `compare` says whether
 * a place is behind (negative) or ahead (positive) of where one stands.
 */
export function step<T>(places: readonly T[], compare: (a: T) => number, forward: boolean): T | undefined {
  const next = forward ? places.find((p) => compare(p) > 0) : places.filter((p) => compare(p) < 0).at(-1);
  return next ?? (forward ? places[0] : places.at(-1));
}
