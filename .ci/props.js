// Properties of a component, as a lint rule: what its interface Props asks for, it takes.

/** @type {import('eslint').Rule.RuleModule} */
const used = {
  meta: { type: 'problem', schema: [] },
  create(context) {
    /** @type {any[]} */
    let asked = [];
    return {
      /** @param {any} node */
      TSInterfaceDeclaration({ id, body }) {
        if (id.name === 'Props') asked = body.body;
      },
      /** @param {any} node */
      VariableDeclarator({ id, init }) {
        if (init?.callee?.name !== '$props' || id.type !== 'ObjectPattern') return;
        if (id.properties.some((/** @type {any} */ p) => p.type === 'RestElement')) return;
        const taken = new Set(id.properties.map((/** @type {any} */ p) => p.key.name ?? p.key.value));
        for (const node of asked) {
          const name = node.key?.name ?? node.key?.value;
          if (!taken.has(name))
            context.report({
              node,
              message: `A component takes what its Props ask for; ${name} is not taken.`,
            });
        }
      },
    };
  },
};

/** @type {import('eslint').ESLint.Plugin} */
export default { meta: { name: 'props' }, rules: { used } };
