/**
 * What may import what, and no circles: `npm run check:borders`. Imports of types count like all others.
 * @type {import('dependency-cruiser').IConfiguration}
 */
export default {
  forbidden: [
    {
      name: 'analysis-imports-only-itself',
      comment: 'The computing knows no Node, no browser and no package.',
      severity: 'error',
      from: { path: '^analysis/' },
      to: { pathNot: '^analysis/' },
    },
    {
      name: 'main-imports-no-window',
      comment: 'What touches the world knows neither the window nor the generator of samples nor tests.',
      severity: 'error',
      from: { path: '^main/' },
      to: { path: '^(renderer|sample-clips|tests)/', pathNot: '^renderer/figures/' },
    },
    {
      name: 'only-reports-draw-figures',
      comment: 'Reports are drawn with the figures of the window; nothing else of the program draws.',
      severity: 'error',
      from: { path: '^main/', pathNot: '^main/outputs/report/' },
      to: { path: '^renderer/' },
    },
    {
      name: 'figures-import-only-analysis',
      comment: 'Figures are drawn in the window and in reports alike: they know neither.',
      severity: 'error',
      from: { path: '^renderer/figures/' },
      to: { path: '^(main|renderer|sample-clips|tests)/', pathNot: '^renderer/figures/' },
    },
    {
      name: 'renderer-imports-no-program',
      comment: 'The window knows of the program only the contract between them.',
      severity: 'error',
      from: { path: '^renderer/' },
      to: { path: '^(main|sample-clips|tests)/', pathNot: '^main/contract/' },
    },
    {
      name: 'renderer-imports-no-node',
      comment: 'The window runs in a browser, in the sandbox.',
      severity: 'error',
      from: { path: '^renderer/' },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'renderer-imports-no-electron',
      comment: 'The window has a bridge; it never sees Electron.',
      severity: 'error',
      from: { path: '^renderer/' },
      to: { path: '(^|/)node_modules/electron/|^electron$' },
    },
    {
      name: 'samples-share-no-measuring',
      comment: 'The generator shares no code with the measuring, so that it can judge it.',
      severity: 'error',
      from: { path: '^sample-clips/' },
      to: { path: '^(analysis|main|renderer|tests)/', pathNot: '^main/film/engines/' },
    },
    {
      name: 'no-unknown-package',
      comment: 'What is imported is there, and stands in package.json.',
      severity: 'error',
      from: {},
      // The one optional package that a machine may lack is imported where its lack is caught.
      to: {
        dependencyTypes: ['unknown', 'undetermined', 'npm-no-pkg', 'npm-unknown'],
        pathNot: '^@tensorflow/tfjs-node$',
      },
    },
    {
      name: 'no-circle-of-files',
      comment: 'Each file can be understood after those that it imports.',
      severity: 'error',
      from: {},
      to: { circular: true },
    },
    {
      name: 'no-circle-of-folders',
      comment: 'Each folder can be understood after those that it imports.',
      severity: 'error',
      scope: 'folder',
      from: { path: '^(analysis|main|renderer|sample-clips|tests)/' },
      to: { circular: true },
    },
  ],
  options: {
    tsConfig: { fileName: 'tsconfig.json' },
    tsPreCompilationDeps: true,
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '^(out|dist)/' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'require', 'node', 'default', 'types'],
    },
  },
}
