// Every exported function of src/physics that takes or gives numbers names a unit in its doc comment, as a lint rule. Only
// numerics/ is free: it is mathematics. What has no unit says what it is: 1, a share, a ratio, an index, a number of something;
// what serves several units says «any unit».
import { relative, sep } from 'node:path';

const PREFIXED = '[µmkMG]?(?:m|s|Hz|V|A|T|N|J|W|F|H|Ω|Wb|S|g|Pa|rad)[²³]?';
const OTHER = 'dB|dBFS|LUFS|LU|°C|px|%';
const PER = '(?:[·/ ](?:\\(?(?:m|s|A|V|turn|kg|Hz|rad)[²³]?\\)?))*';
const SYMBOL = `(?:(?:${PREFIXED}|${OTHER})${PER}|1/(?:s|m|V)|1)`;
// After a comma, a bracket, «in», a number or a parameter's name, so that a letter in a sentence is none.
const BEFORE = '(?:[,(:;=]\\s+|[(]|\\b(?:in|of|or|and)\\s|\\d\\s|@param(?: \\w+)+ )';
const WORDS =
  '[Ss]amples?|[Ss]hares?|cents|ratio|relative|semitones?|volts?|ind(?:ex|ices)|[Nn]umber of|counted|any unit';
const UNIT = new RegExp(`${BEFORE}${SYMBOL}(?= per |[,.;:)]|\\s|$)|\\b(?:${WORDS})\\b`, 'mu');
const NUMERIC = /\bnumber\b|\bFloat(?:32|64)Array\b/;

/** @param {string} comment a doc comment's text @returns whether it names a unit */
export const namesUnit = (comment) => UNIT.test(comment.replace(/^\s*\*/gm, ' '));

/** @type {import('eslint').Rule.RuleModule} */
const doc = {
  meta: { type: 'problem', schema: [] },
  create(context) {
    const file = relative(context.cwd, context.filename).split(sep).join('/');
    if (!file.startsWith('src/physics/') || file.startsWith('src/physics/numerics/')) return {};
    const { sourceCode } = context;
    return {
      /** @param {any} node */
      ExportNamedDeclaration(node) {
        const { declaration } = node;
        const functions =
          declaration?.type === 'FunctionDeclaration'
            ? [[declaration.id.name, declaration]]
            : (declaration?.declarations ?? [])
                .filter((/** @type {any} */ one) => /^(Arrow)?Function/.test(one.init?.type ?? ''))
                .map((/** @type {any} */ one) => [one.id.name, one.init]);
        for (const [name, one] of functions) {
          const types = [...one.params.map((/** @type {any} */ p) => p.left ?? p), one.returnType];
          const numeric = types.some(
            (type) =>
              type &&
              NUMERIC.test(
                sourceCode.getText(type.type === 'TSTypeAnnotation' ? type : (type.typeAnnotation ?? type)),
              ),
          );
          if (!numeric) continue;
          const comment = sourceCode
            .getCommentsBefore(node)
            .findLast(({ type, value }) => type === 'Block' && value.startsWith('*'));
          if (comment && namesUnit(comment.value)) continue;
          context.report({
            node,
            message: `The doc comment of ${name} must name a unit of what it takes or gives (m, T, H, Ω, dB, 1, a share, any unit); got ${comment ? 'none' : 'no doc comment'}.`,
          });
        }
      },
    };
  },
};

/** @type {import('eslint').ESLint.Plugin} */
export default { meta: { name: 'units' }, rules: { doc } };
