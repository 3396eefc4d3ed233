// Lists on the screen, as a lint rule: Svelte throws when two items of a list have one key, and then the page no longer
// follows. A text or a figure of the document can stand twice, so a list is keyed by its index, by what was numbered or
// made to be unlike (ui/drawing/keyed.ts), or by the items of a list that is written out with no two alike.

const MESSAGE =
  'Key a list by its index, or by a property named key, index or string: a text or a figure can stand twice.';

/** What is unlike by construction: `key` of keyed() or of a path, `index` of a list, `string` 1–6. */
const UNLIKE = new Set(['key', 'index', 'string']);

/** @param {any} node @returns {boolean} whether it is a list of literals of which no two are alike */
function writtenOut({ type, elements }) {
  if (type !== 'ArrayExpression') return false;
  const values = elements.map((/** @type {any} */ e) =>
    e?.type === 'UnaryExpression' ? `${e.operator}${e.argument.value}` : e?.value,
  );
  return !values.includes(undefined) && new Set(values).size === values.length;
}

/** @type {import('eslint').Rule.RuleModule} */
const keys = {
  meta: { type: 'problem', schema: [] },
  create(context) {
    return {
      /** @param {any} node */
      SvelteEachBlock({ expression, context: item, index, key }) {
        if (!key) return; // another rule wants one
        const named = key.type === 'Identifier' ? key.name : null;
        const allowed =
          (named !== null && named === index?.name) ||
          (named !== null && named === item?.name && writtenOut(expression)) ||
          (named !== null && item?.type === 'ObjectPattern' && UNLIKE.has(named)) ||
          (key.type === 'MemberExpression' && !key.computed && UNLIKE.has(key.property.name));
        if (!allowed) context.report({ node: key, message: MESSAGE });
      },
    };
  },
};

/** @type {import('eslint').ESLint.Plugin} */
export default { meta: { name: 'lists' }, rules: { keys } };
