// The patterns that the cases work on: demo patterns of the repository, as they
// are or with a slip.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';

const demo = (name) => readFileSync(new URL(`../../testdata/patterns/${name}.crochet`, import.meta.url), 'utf8');

/** The text with pieces of it replaced; each must be there. */
export function but(text, ...replaced) {
  for (const [what, by] of replaced) {
    assert.ok(text.includes(what), `the pattern has no ${what}`);
    text = text.replace(what, () => by);
  }
  return text;
}

export const snail = demo('snail');
export const hat = demo('hat');
export const lace = demo('lace');

/** The snail with a total that is wrong. */
export const slipped = but(snail, ['Rnd 4: (sc 2, inc) x 6 (24)', 'Rnd 4: (sc 2, inc) x 6 (25)']);

/** A piece whose name takes two UTF-16 units where one character is seen, and a note with an address behind another. */
export const moon = 'Terms: US\nNote: 😀 the wool is told of at https://example.org/wool\n\nPiece: Moon 😀 (make 2)\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\n';
