// The import order of the rooms, read from rooms.json, plus: no cycles, nothing unresolved, no Node built-ins in the core.
const { core, order } = require('./rooms.json');

module.exports = {
  forbidden: [
    { name: 'no-cycles', severity: 'error', from: {}, to: { circular: true } },
    { name: 'no-unresolved', severity: 'error', from: {}, to: { couldNotResolve: true } },
    {
      name: 'pure-core',
      severity: 'error',
      from: { path: `^src/(${core.join('|')})/`, pathNot: '\\.test\\.ts$' },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'source-imports-no-test',
      severity: 'error',
      from: { path: '^src/', pathNot: '\\.test\\.ts$' },
      to: { path: '^test/' },
    },
    ...Object.entries(order).map(([room, allowed]) => ({
      name: `order-of-${room}`,
      severity: 'error',
      from: { path: `^src/${room}/`, pathNot: '\\.test\\.ts$' },
      to: { path: '^src/', pathNot: `^src/(${[room, ...allowed].join('|')})/` },
    })),
  ],
  options: {
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    doNotFollow: { path: 'node_modules' },
  },
};
