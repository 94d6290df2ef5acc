/** House rules that the linter does not bring. Each says what to do instead. */

/** @typedef {import('eslint').Rule.RuleModule} Rule */

const knownEnding = /\.(?:ts|mjs|cjs|js|json|svelte|css|svg|png|ttf)(?:\?[a-z]+)?$/;

/** @type {Rule} */
const importEnding = {
  meta: {
    type: 'problem',
    docs: { description: 'import paths carry their ending' },
    messages: { missing: 'Write the file ending in the import path “{{path}}”.' },
    schema: [],
  },
  create: (context) => {
    /** @param {import('estree').Node & { source?: import('estree').Literal | import('estree').Expression | null | undefined }} node */
    const check = (node) => {
      const { source } = node;
      if (source?.type !== 'Literal' || typeof source.value !== 'string') return;
      if (!source.value.startsWith('.') || knownEnding.test(source.value)) return;
      context.report({ node, messageId: 'missing', data: { path: source.value } });
    };
    return {
      ImportDeclaration: check,
      ImportExpression: check,
      ExportNamedDeclaration: check,
      ExportAllDeclaration: check,
    };
  },
};

const testMakers = new Set(['it', 'test', 'describe', 'suite']);
const setAside = new Set(['only', 'skip', 'todo', 'fails']);

/** The name at the start of `it`, `it.each`, `describe.concurrent` and the like. @param {import('estree').Node} node @returns {string | undefined} */
const makerOf = (node) => {
  if (node.type === 'Identifier') return node.name;
  if (node.type === 'MemberExpression') return makerOf(node.object);
  return undefined;
};

/** @type {Rule} */
const everyTestRuns = {
  meta: {
    type: 'problem',
    docs: { description: 'no test is set aside or run alone' },
    messages: { aside: '“.{{name}}” hides tests; use runIf with a reason where a test cannot run.' },
    schema: [],
  },
  create: (context) => ({
    MemberExpression: (node) => {
      const { property } = node;
      if (property.type !== 'Identifier' || !setAside.has(property.name)) return;
      if (!testMakers.has(makerOf(node.object) ?? '')) return;
      context.report({ node, messageId: 'aside', data: { name: property.name } });
    },
  }),
};

/** @type {Rule} */
const givenClock = {
  meta: {
    type: 'problem',
    docs: { description: 'clock and random values come in as arguments' },
    messages: {
      clock: 'Take the time from the clock that is passed in.',
      chance: 'Take identifiers from newId, which is passed in.',
    },
    schema: [],
  },
  create: (context) => ({
    NewExpression: (node) => {
      const { callee } = node;
      if (callee.type === 'Identifier' && callee.name === 'Date' && node.arguments.length === 0) {
        context.report({ node, messageId: 'clock' });
      }
    },
    CallExpression: (node) => {
      const text = context.sourceCode.getText(node.callee);
      if (text === 'Date' || text === 'Date.now') context.report({ node, messageId: 'clock' });
      if (/^(?:Math\.random|(?:\w+\.)?random(?:UUID|Bytes|Int))$|getRandomValues$/.test(text)) {
        context.report({ node, messageId: 'chance' });
      }
    },
  }),
};

/** @type {import('eslint').ESLint.Plugin} */
export const house = {
  rules: {
    'import-ending': importEnding,
    'every-test-runs': everyTestRuns,
    'given-clock': givenClock,
  },
};
