import vitest from '@vitest/eslint-plugin'
import tseslint from 'typescript-eslint'

const tests = ['tests/**/*.ts', 'tests/**/*.tsx']

export default tseslint.config(
  { ignores: ['node_modules', 'out', 'dist', 'coverage'] },
  { linterOptions: { reportUnusedDisableDirectives: 'error' } },
  {
    files: ['**/*.ts', '**/*.tsx'],
    extends: [...tseslint.configs.recommendedTypeChecked],
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: import.meta.dirname } },
    rules: {
      eqeqeq: ['error', 'always', { null: 'ignore' }],
      'max-lines': ['warn', { max: 400 }],
      'no-restricted-syntax': [
        'error',
        { selector: 'TSEnumDeclaration', message: 'Use a union of string literals: enums are not erasable.' },
        {
          selector: 'TSParameterProperty',
          message: 'Declare the field and assign it: parameter properties are not erasable.',
        },
      ],
      '@typescript-eslint/consistent-type-imports': ['error', { fixStyle: 'inline-type-imports' }],
      '@typescript-eslint/no-explicit-any': 'error',
      '@typescript-eslint/no-floating-promises': 'error',
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true, allowBoolean: true }],
      // Our interfaces hold closures, which need no `this`.
      '@typescript-eslint/unbound-method': 'off',
      '@typescript-eslint/switch-exhaustiveness-check': [
        'error',
        { considerDefaultExhaustiveForUnions: true, requireDefaultForNonUnion: true },
      ],
    },
  },
  {
    // The core computes the same numbers on every machine: no clock, no chance, no console.
    files: ['analysis/**/*.ts'],
    rules: {
      'no-restricted-properties': [
        'error',
        { object: 'Math', property: 'random', message: 'Take a seeded generator as an input.' },
        { object: 'Date', property: 'now', message: 'Take the time as an input.' },
      ],
    },
  },
  {
    files: tests,
    plugins: { vitest },
    settings: { vitest: { typecheck: true } },
    rules: {
      'vitest/expect-expect': ['error', { assertFunctionNames: ['expect', 'expect*'] }],
      'vitest/no-focused-tests': 'error',
      'vitest/no-identical-title': 'error',
      'vitest/no-standalone-expect': 'error',
      'vitest/valid-expect': 'error',
      'vitest/valid-expect-in-promise': 'error',
      'vitest/valid-title': 'error',
    },
  },
)
