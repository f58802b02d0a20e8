import svelte from 'eslint-plugin-svelte'
import { defineConfig, globalIgnores } from 'eslint/config'
import globals from 'globals'
import tseslint from 'typescript-eslint'
import svelteConfig from './svelte.config.js'
import { roomRules } from './tests/tools/rooms.mjs'

const words = {
  eqeqeq: 'error',
  'no-console': 'error',
  'no-eval': 'error',
  'no-implied-eval': 'error',
  'no-param-reassign': 'error',
  'no-warning-comments': ['error', { terms: ['todo', 'fixme', 'xxx', 'hack'] }],
  'object-shorthand': 'error',
}

const types = {
  '@typescript-eslint/ban-ts-comment': [
    'error',
    { 'ts-ignore': true, 'ts-nocheck': true, 'ts-expect-error': true, 'ts-check': false },
  ],
  '@typescript-eslint/consistent-type-imports': 'error',
  '@typescript-eslint/no-explicit-any': 'error',
  // Numbers are most of what is written here, and they print the same everywhere.
  '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true }],
  '@typescript-eslint/no-confusing-void-expression': ['error', { ignoreArrowShorthand: true }],
  // An element of an array is typed as present (hot numeric loops), so "unnecessary" checks can be needed.
  '@typescript-eslint/no-unnecessary-condition': 'off',
  '@typescript-eslint/no-unused-vars': 'off',
}

export default defineConfig([
  globalIgnores(['dist/', 'dist-single/', 'node_modules/', '.svelte-kit/']),
  { linterOptions: { noInlineConfig: true } },
  {
    files: ['**/*.ts'],
    extends: [tseslint.configs.strictTypeChecked],
    languageOptions: { parserOptions: { projectService: true, extraFileExtensions: ['.svelte'] } },
    rules: { ...words, ...types },
  },
  {
    // Scripts say their types in comments, which the compiler checks and the typed lint rules do not see.
    files: ['**/*.{js,mjs}'],
    extends: [tseslint.configs.strict],
    rules: { ...words, '@typescript-eslint/no-unused-vars': 'off' },
  },
  {
    files: ['**/*.svelte'],
    extends: [tseslint.configs.strict, svelte.configs.recommended],
    languageOptions: {
      globals: globals.browser,
      parserOptions: { parser: tseslint.parser, extraFileExtensions: ['.svelte'], svelteConfig },
    },
    rules: {
      ...words,
      '@typescript-eslint/no-unused-vars': 'off',
      'no-restricted-syntax': [
        'error',
        {
          selector: 'SvelteAttribute[key.name="style"]',
          message: 'The content security policy blocks it: use a class or style:name={value}.',
        },
      ],
    },
  },
  { files: ['tests/tools/*.mjs', 'tests/bench/**', 'src/headless/**'], rules: { 'no-console': 'off' } },
  {
    files: ['src/**/*.ts', 'workers/**/*.ts'],
    rules: {
      'max-lines': ['error', { max: 300, skipBlankLines: true, skipComments: true }],
      'max-lines-per-function': ['error', { max: 60, skipBlankLines: true, skipComments: true }],
    },
  },
  ...roomRules(),
])
