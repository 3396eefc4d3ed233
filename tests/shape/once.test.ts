/**
 * Every formula and figure of shape/ that more than one room needs stands there alone. The table names them, who uses them, and
 * how each would look if it were written again; a twin anywhere in src/, or a user that goes its own way, fails.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

interface Once {
  readonly file: string;
  /** Exported there. No file outside shape/ may define anything of these names. */
  readonly names: readonly string[];
  /** Files, from src/, that must import one of them from there. */
  readonly users: readonly string[];
  /** The formula itself, in code without white space and names of objects; it may stand in shape/ alone. */
  readonly formulas: readonly RegExp[];
}

const ONCE: readonly Once[] = [
  {
    file: 'stringCourse.ts',
    names: ['stringAcross', 'rowCrossing', 'acrossPickup', 'stringArc', 'stringUnderside'],
    users: [
      'physics/fieldQuestion.ts',
      'physics/string/reach.ts',
      'physics/warnings.ts',
      'physics/picture/plan.ts',
      'physics/magnetics/overPickup/stringHeights.ts',
      'ui/placement/view.ts',
      'ui/section/view.ts',
      'ui/across/view.ts',
      'ui/plan/view.ts',
    ],
    formulas: [/spreadNut-spreadSaddle/, /sqrt\((\w+)\*\*2-\w+\*\*2\)\+/, /sqrt\((\w+)\*\1-half/],
  },
  {
    file: 'poleRow.ts',
    names: ['polePlace', 'polePlaces', 'polesStanding', 'standingPoles'],
    users: [
      'physics/magnetics/pickup/buildBodies.ts',
      'physics/magnetics/build/checkPlaces.ts',
      'physics/magnetics/overPickup/fieldWidth.ts',
      'state/picture.svelte.ts',
      'ui/across/view.ts',
      'ui/plan/view.ts',
    ],
    formulas: [
      /\([23]\.5-\w+\)\*(\w+\.)?pitch/,
      /\(middle-\w+\)\*(\w+\.)?pitch/,
      /length-1\)(\/2)?-\w+\)\*(\w+\.)?pitch/,
    ],
  },
  {
    file: 'pole.ts',
    names: ['poleForm', 'poleProfile', 'poleOutline', 'topDiameter', 'tipRoom'],
    users: [
      'physics/fieldQuestion.ts',
      'physics/magnetics/pickup/buildBodies.ts',
      'physics/magnetics/overPickup/stringLine.ts',
      'sheet/focusLever.ts',
      'sheet/mods.ts',
      'ui/section/built.ts',
      'ui/across/pole.ts',
    ],
    formulas: [/CONE_FLAT/, /LEAST_TIP/, /\(2\*(tip\.)?(depth|size)\)/, /0\.49\*/],
  },
  {
    file: 'cover.ts',
    names: [
      'coverTop',
      'coverRim',
      'coverInside',
      'coverOutside',
      'coverHoles',
      'basePlateTop',
      'basePlateHoles',
      'lowestFoot',
      'holeDiameter',
    ],
    users: [
      'physics/magnetics/build/placedPlates.ts',
      'physics/magnetics/build/checkCover.ts',
      'physics/magnetics/overPickup/stringPull.ts',
      'ui/section/metalCuts.ts',
      'ui/section/view.ts',
      'ui/across/view.ts',
      'ui/across/coverCut.ts',
    ],
    formulas: [/bottom-FLANGE/, /SIDE_ROOM/, /HOLE_ROOM/],
  },
  {
    file: 'parts.ts',
    names: ['pickupParts', 'blockPart', 'coverPart'],
    users: [
      'physics/fieldQuestion.ts',
      'ui/section/metalCuts.ts',
      'ui/across/coverCut.ts',
      'ui/parts/sheetRows.ts',
    ],
    formulas: [/==='everyrow'\|\|/, /top-(bar\.)?thickness\/2/],
  },
  {
    file: 'bobbin.ts',
    names: ['FLANGE', 'FLANGE_RIM', 'SIDE_ROOM', 'HOLE_ROOM', 'upperFlange'],
    users: ['ui/section/built.ts', 'ui/across/view.ts', 'ui/across/Bobbin.svelte'],
    formulas: [/min\(FLANGE,-/, /RIM=0?\.6e-3/],
  },
  {
    file: 'gauges.ts',
    names: ['gaugeDiameter', 'gaugeNumber'],
    users: [
      'physics/magnetics/coil/turnsRoom.ts',
      'sheet/wireGauge.ts',
      'sheet/builds.ts',
      'sheet/spelling.ts',
      'ui/parts/buildRows.ts',
    ],
    formulas: [/92\*\*/, /log\(92\)/, /0?\.127e-3/],
  },
  {
    file: 'wrap.ts',
    names: ['WRAP_FILL', 'roundSection', 'wrapSection'],
    users: ['sheet/strings.ts', 'physics/warnings.ts', 'physics/string/woundSteel.ts'],
    formulas: [/diameter\*\*2-(\w+\.)?core(\*\*2)?\)/, /'ferriticstainlesssteel'\|/],
  },
  {
    file: 'stringLevel.ts',
    names: ['stringLevel', 'WRAP_SHARE', 'REFERENCE_DIAMETER'],
    users: ['physics/string/reach.ts', 'sheet/handReach.ts', 'ui/section/view.ts'],
    formulas: [/0?\.432e-3/],
  },
  {
    file: 'outline.ts',
    names: ['insideOutline'],
    users: ['physics/picture/section.ts', 'physics/picture/plan.ts', 'plot/planeField.ts'],
    formulas: [/(\w+)>v===(\w+)>v/],
  },
  {
    file: 'materials.ts',
    names: ['MAGNET_GRADES', 'CHOSEN_GRADES', 'PLATE_METALS', 'STEEL_GRADES'],
    users: ['sheet/checkBuild.ts', 'ui/parts/barRow.ts', 'ui/parts/sheetRows.ts'],
    formulas: [/'alnico2'[,|]'alnico3'/, /'nickelsilver'[,|]'brass'/],
  },
  {
    file: 'bell.ts',
    names: ['SIGMA_PER_WIDTH', 'BELL_AREA'],
    users: ['physics/string/reach.ts', 'ui/section/reachBy.ts'],
    formulas: [/sqrt\(2\*(Math\.)?(LN2|log\(2\))\)/, /4\*(Math\.)?(LN2|log\(2\))/],
  },
];

/** Code without comments and white space. */
const bare = (source: string): string =>
  source
    .replace(/\/\*[^]*?\*\//g, '')
    .replace(/(^|\s)\/\/.*$/gm, '')
    .replace(/\s+/g, '');

/** What a file outside shape/ writes again, in words. @param path from src/ */
function twins(path: string, source: string): readonly string[] {
  const code = bare(source);
  return ONCE.flatMap(({ file, names, formulas }) => [
    ...names
      .filter((name) => new RegExp(`\\b(function|const|let|class|var)\\s+${name}\\b`).test(source))
      .map((name) => `${path} defines ${name}, which stands in shape/${file}`),
    ...formulas
      .filter((formula) => formula.test(code))
      .map((formula) => `${path} writes ${formula.source}, which stands in shape/${file}`),
  ]);
}

/** Whether a file takes one of the names from shape's file. */
function takes(source: string, { file, names }: Once): boolean {
  const imports = Array.from(
    source.matchAll(/import \{([^}]*)\} from '(?:\.\.\/)+shape\/([\w.]+)'/g),
    ([, list, from]) => ({ list: list!.split(/[\s,]+/), from }),
  );
  return imports.some(({ list, from }) => from === file && names.some((name) => list.includes(name)));
}

const files = readdirSync('src', { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile() && /\.(ts|svelte)$/.test(entry.name))
  .map((entry) => `${entry.parentPath}/${entry.name}`.replace(/^src\//, ''));
const sources = new Map(files.map((path) => [path, readFileSync(`src/${path}`, 'utf8')] as const));

describe('formulas that stand once', () => {
  it('are exported where the table says', () => {
    for (const { file, names } of ONCE)
      for (const name of names)
        expect(sources.get(`shape/${file}`), `${name} in shape/${file}`).toMatch(
          new RegExp(`^export (function|const) ${name}\\b`, 'm'),
        );
  });

  it('would be known again: each pattern finds its formula in shape/', () => {
    const code = files.filter((path) => path.startsWith('shape/')).map((path) => bare(sources.get(path)!));
    // Patterns of how a twin once looked, or would, need not stand in shape/ too; one of each row must.
    for (const { file, formulas } of ONCE)
      expect(
        formulas.some((formula) => code.some((text) => formula.test(text))),
        file,
      ).toBe(true);
  });

  it('have no twin anywhere in src/', () => {
    const found = files
      .filter((path) => !path.startsWith('shape/'))
      .flatMap((path) => twins(path, sources.get(path)!));
    expect(found).toEqual([]);
  });

  it('are taken from there by everyone who needs them', () => {
    const astray = ONCE.flatMap((once) =>
      once.users.filter((path) => !takes(sources.get(path) ?? '', once)).map((path) => [path, once.file]),
    );
    expect(astray).toEqual([]);
  });
});

describe('a planted twin is refused', () => {
  it.each([
    ['a function of the name', 'export function gaugeDiameter(n: number) { return n; }', /gaugeDiameter/],
    ['a constant of the name', 'const FLANGE = 1.5e-3;', /FLANGE/],
    [
      'the strings’ spread',
      'const s = a.spreadSaddle + ((spreadNut - spreadSaddle) * x) / l;',
      /stringCourse/,
    ],
    ['the arc', 'const rise = Math.sqrt(R ** 2 - h ** 2) + 1;', /stringCourse/],
    ['poles of a row of six', 'const at = (k: number) => (2.5 - k) * build.pitch;', /poleRow/],
    ['a cone’s flat', 'const CONE_FLAT = 0.1;', /pole\.ts/],
    ['a dome’s sphere', 'const sphere = (r ** 2 + size ** 2) / (2 * size);', /pole\.ts/],
    ['a cover’s rim', 'const rim = window.bottom - FLANGE;', /cover\.ts/],
    ['a hole’s width', 'const half = (width + HOLE_ROOM) / 2;', /cover\.ts/],
    ['wire gauge', 'const d = 0.127e-3 * 92 ** ((36 - n) / 39);', /gauges/],
    ['the wrap', 'const ring = diameter ** 2 - core ** 2);', /wrap/],
    ['the reference string', 'const REFERENCE = 0.432e-3;', /stringLevel/],
    ['magnet grades', "type Grade = 'alnico 2' | 'alnico 3';", /materials/],
    ['metals of plates', "const METALS = ['nickel silver', 'brass'];", /materials/],
    ['a bell’s area', 'const area = Math.sqrt(Math.PI / (4 * Math.LN2));', /bell/],
    ['even-odd', 'if (va > v === vb > v) continue;', /outline/],
  ])('%s', (_, source, sentence) => {
    expect(twins('ui/planted.ts', source).join('\n')).toMatch(sentence);
  });

  it('and a user that imports from elsewhere, or nothing, is found', () => {
    const gauges = ONCE.find(({ file }) => file === 'gauges.ts')!;
    expect(takes("import { gaugeDiameter } from '../shape/gauges.ts';", gauges)).toBe(true);
    expect(takes("import { gaugeDiameter } from './wireGauge.ts';", gauges)).toBe(false);
    expect(takes("import { gaugeDiameters } from '../shape/gauges.ts';", gauges)).toBe(false);
    expect(takes('const d = 63e-6;', gauges)).toBe(false);
  });

  it('while what merely uses or mentions them is not', () => {
    expect(
      twins('ui/fine.ts', "// (2.5 - k) * pitch stood here\nimport { FLANGE } from '../shape/bobbin.ts';"),
    ).toEqual([]);
    expect(twins('ui/fine.ts', 'const wide = gaugeDiameter(42);')).toEqual([]);
  });
});
