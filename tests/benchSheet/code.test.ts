/** The code on the page, read by a decoder that knows nothing of what wrote it. */
import jsQR from 'jsqr';
import { describe, expect, it } from 'vitest';
import { codeBlock, LONGEST } from '../../src/benchSheet/code.ts';
import type { Block } from '../../src/benchSheet/page.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import { decodeLink } from '../../src/sheet/link.ts';
import { encodeShortLink } from '../../src/sheet/shortLink.ts';
import { wrap } from '../../src/sheet/trials.ts';
import { PRESETS } from '../fixtures/presets.ts';
import { ADDRESS } from './rig.ts';

/** Dots a millimetre: 600 an inch, as printers do; at 300 a module is 3.9 dots, too uneven for this decoder now and then. */
const DOTS = 600 / 25.4;

/** What the block's rectangles print, as the decoder takes it: white paper, black ink. */
function printed(block: Block): { pixels: Uint8ClampedArray; side: number } {
  if (block.kind !== 'code' || !block.drawing) throw new Error('There must be a code; there is none.');
  const { width, marks } = block.drawing;
  const side = Math.ceil(width * DOTS);
  const pixels = new Uint8ClampedArray(4 * side * side).fill(255);
  for (const mark of marks) {
    if (mark.kind !== 'path') continue;
    for (const [, ...corners] of mark.d.matchAll(/M([\d.]+) ([\d.]+)H([\d.]+)V([\d.]+)H[\d.]+Z/g)) {
      const [left, top, right, bottom] = corners.map((mm) => Math.round(Number(mm) * DOTS)) as [
        number,
        number,
        number,
        number,
      ];
      for (let y = top; y < bottom; y++)
        for (let x = left; x < right; x++) pixels.fill(0, 4 * (y * side + x), 4 * (y * side + x) + 3);
    }
  }
  return { pixels, side };
}

/** mm: the least step between two edges. */
function moduleOf(block: Block): number {
  if (block.kind !== 'code' || !block.drawing) throw new Error('There must be a code; there is none.');
  const heights = block.drawing.marks.flatMap((mark) =>
    mark.kind === 'path'
      ? Array.from(
          mark.d.matchAll(/M[\d.]+ ([\d.]+)H[\d.]+V([\d.]+)H/g),
          ([, y, to]) => Number(to) - Number(y),
        )
      : [],
  );
  return Math.min(...heights);
}

function read(block: Block): string | undefined {
  const { pixels, side } = printed(block);
  return jsQR(pixels, side, side)?.data;
}

describe('[tool: jsqr] the code at 600 dots an inch', () => {
  it.each(PRESETS)('of $name is its link, which opens that sheet', async ({ data }) => {
    const checked = checkSheet(data);
    if (!checked.ok) throw new Error(checked.message);
    const link = `${ADDRESS}#${await encodeShortLink(wrap(checked.sheet))}`;
    const found = read(codeBlock(link));
    expect(found).toBe(link);
    // [practice] What a telephone reads at arm's length from any printer.
    expect(moduleOf(codeBlock(link))).toBeGreaterThan(0.42);
    const opened = await decodeLink(new URL(found!).hash);
    expect(opened.ok && opened.trials.trials[0]).toEqual(checked.sheet);
  });

  it('of the longest link is read, and a letter more says that it is too long, and what to do', () => {
    const longest = `https://example.org/#${'Ab3_'.repeat(600)}`.slice(0, LONGEST);
    const block = codeBlock(longest);
    expect(read(block)).toBe(longest);
    expect(block.kind === 'code' && block.drawing!.width).toBeLessThan(53);
    const over = codeBlock(`${longest}x`);
    expect(over).toMatchObject({ drawing: null });
    expect(over.kind === 'code' && over.says).toMatch(
      /at most 2068 characters.* got 2069\. Shorten the notes/,
    );
  });

  it('without an address there is none, and the page says so', () => {
    expect(codeBlock('')).toMatchObject({ drawing: null, says: expect.stringMatching(/address/) });
  });
});
