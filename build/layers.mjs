/** The layers of the house: which folder may lean on which, and which package belongs to which folder. */

/**
 * What each folder may import besides itself: other folders, and packages.
 * @type {Readonly<Record<string, { folders: readonly string[], packages: readonly string[], node?: boolean }>>}
 */
const layers = {
  'electron/domain': { folders: [], packages: ['pure-rand'] },
  // Of the domain only the types: see the rule “contract takes only types from the domain”.
  'electron/api': { folders: ['electron/domain'], packages: ['zod'] },
  'electron/storage': {
    folders: ['electron/domain'],
    packages: ['better-sqlite3', 'kysely', 'yazl', 'yauzl'],
    node: true,
  },
  'electron/documents': {
    folders: ['electron/domain'],
    packages: ['pdfkit', 'uqr', 'fast-xml-builder', '@expo-google-fonts', 'dejavu-fonts-ttf'],
    node: true,
  },
  'electron/workshop': {
    folders: ['electron/domain', 'electron/storage', 'electron/documents', 'electron/api', 'migrations'],
    packages: ['zod', 'papaparse', 'ibantools'],
    node: true,
  },
  'electron/demo': { folders: ['electron/domain', 'electron/api'], packages: [] },
  'electron/hosting': {
    folders: ['electron/workshop', 'electron/demo', 'electron/api'],
    packages: [],
    node: true,
  },
  'electron/webhost': {
    folders: ['electron/hosting', 'electron/workshop', 'electron/api'],
    packages: [],
    node: true,
  },
  'electron/shell': {
    folders: ['electron/hosting', 'electron/workshop', 'electron/api'],
    packages: ['electron', 'zod'],
    node: true,
  },
  // The shape of a migration, as a type.
  migrations: { folders: ['electron/storage/migrate.ts'], packages: [] },
  renderer: {
    folders: ['electron/api', 'electron/domain'],
    packages: [
      'svelte',
      'bits-ui',
      'chart.js',
      '@lucide/svelte',
      '@internationalized/date',
      '@expo-google-fonts',
    ],
  },
};

/** @type {import('dependency-cruiser').SeverityType} */
const error = 'error';

/** @param {string} text */
const literally = (text) => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');

/** @param {readonly string[]} paths */
const anyOf = (paths) =>
  `^(?:${paths.map((path) => (path.endsWith('.ts') ? `${literally(path)}$` : `${literally(path)}/`)).join('|')})`;

/** @returns {import('dependency-cruiser').IForbiddenRuleType[]} @param {[string, { folders: readonly string[], packages: readonly string[], node?: boolean }]} entry */
const rulesFor = ([folder, { folders, packages, node = false }]) => {
  const from = { path: `^${literally(folder)}/` };
  /** @type {import('dependency-cruiser').IForbiddenRuleType[]} */
  const rules = [
    {
      name: `${folder} leans only on its own`,
      comment: `${folder} may import ${folders.join(', ') || 'no other folder'}.`,
      severity: error,
      from,
      to: {
        path: '^(?:electron|renderer|migrations|build|tests)/',
        pathNot: anyOf([folder, ...folders]),
      },
    },
    {
      name: `${folder} uses only its packages`,
      comment: `Packages of ${folder}: ${packages.join(', ') || 'none'}.`,
      severity: error,
      from,
      to: {
        path: '^node_modules/',
        ...(packages.length > 0
          ? { pathNot: `^node_modules/(?:@types/)?(?:${packages.map(literally).join('|')})/` }
          : {}),
      },
    },
  ];
  if (node) return rules;
  return [
    ...rules,
    { name: `${folder} knows no Node`, severity: error, from, to: { dependencyTypes: ['core'] } },
  ];
};

/** The programs, the pages' entry, and what is found by name: nothing imports these. */
const entries =
  '^(?:electron/(?:main|preload)\\.ts|electron/webhost/main\\.ts|electron/workshop/engine-worker\\.ts|electron/documents/documents-worker\\.ts|renderer/main\\.ts)$|\\.d\\.ts$';

/** @type {import('dependency-cruiser').IConfiguration} */
export default {
  forbidden: [
    ...Object.entries(layers).flatMap(rulesFor),
    {
      name: 'no cycles',
      severity: error,
      from: {},
      to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
    },
    { name: 'nothing lost', severity: error, from: { orphan: true, pathNot: entries }, to: {} },
    { name: 'everything found', severity: error, from: {}, to: { couldNotResolve: true } },
    {
      name: 'every folder has a layer',
      severity: error,
      from: { path: '^electron/[^/]+/', pathNot: anyOf(Object.keys(layers)) },
      to: {},
    },
    {
      name: 'contract takes only types from the domain',
      severity: error,
      from: { path: '^electron/api/' },
      to: { path: '^electron/domain/', dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'pages take only types from the contract',
      comment: 'A value would bring every input schema, and zod, into the page.',
      severity: error,
      from: { path: '^renderer/' },
      to: {
        path: '^electron/api/',
        pathNot: '^electron/api/errors\\.ts$',
        dependencyTypesNot: ['type-only'],
      },
    },
    {
      name: 'preload knows the contract alone',
      severity: error,
      from: { path: '^electron/preload\\.ts$' },
      to: { path: '^(?:electron|renderer|migrations)/', pathNot: '^electron/api/' },
    },
    {
      name: 'programs do not ship test tools',
      severity: error,
      from: { path: '^(?:electron|migrations|renderer)/' },
      to: { path: '^node_modules/(?:vitest|playwright-core|fast-check|esbuild|vite)/' },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['svelte', 'import', 'require', 'node', 'default', 'types'],
    },
  },
};
