import { fileURLToPath } from 'node:url';
import js from '@eslint/js';
import { defineConfig } from 'eslint/config';
import svelte from 'eslint-plugin-svelte';
import globals from 'globals';
import ts from 'typescript-eslint';
import svelteConfig from '../svelte.config.js';
import lists from './lists.js';
import units from './units.js';
import walls from './walls.js';

const root = fileURLToPath(new URL('..', import.meta.url));

export default defineConfig(
  { ignores: ['dist/', '.cache/', 'coverage/', 'tests/reference/**/*.js'] },
  { linterOptions: { reportUnusedDisableDirectives: 'error' } },
  js.configs.recommended,
  ts.configs.strictTypeChecked,
  svelte.configs.recommended,
  {
    languageOptions: {
      globals: { ...globals.browser, ...globals.node },
      parserOptions: { projectService: true, tsconfigRootDir: root, extraFileExtensions: ['.svelte'] },
    },
    plugins: { walls, units },
    rules: {
      'walls/imports': 'error',
      'walls/circles': 'error',
      'units/doc': 'error',
      'max-lines': ['error', 400],
      eqeqeq: 'error',
      // Inner loops run over typed arrays whose bounds the loop itself keeps.
      '@typescript-eslint/no-non-null-assertion': 'off',
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true }],
      '@typescript-eslint/no-confusing-void-expression': ['error', { ignoreArrowShorthand: true }],
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_' }],
      // A loop without an end is written while (true).
      '@typescript-eslint/no-unnecessary-condition': [
        'error',
        { allowConstantLoopConditions: 'only-allowed-literals' },
      ],
      '@typescript-eslint/consistent-type-imports': ['error', { disallowTypeAnnotations: false }],
    },
  },
  {
    // The worklet has a program of its own: its globals are not the page's.
    files: ['src/audio/**/*.worklet.ts'],
    languageOptions: { parserOptions: { projectService: false, project: '.ci/tsconfig.worklet.json' } },
  },
  {
    files: ['**/*.svelte', '**/*.svelte.ts'],
    languageOptions: { parserOptions: { parser: ts.parser, svelteConfig } },
    plugins: { lists },
    rules: {
      'lists/keys': 'error',
      'no-restricted-syntax': [
        'error',
        {
          // svelte/no-inline-styles would forbid style: too, which sets properties by script and is allowed.
          selector:
            "SvelteAttribute[key.name='style']:not(:has(> SvelteMustacheTag)), SvelteAttribute[key.name='style'] > SvelteMustacheTag[expression.type='Literal']",
          message:
            'A fixed style attribute breaks the Content-Security-Policy; use a class or a style: directive.',
        },
      ],
      // svelte-check knows the components' types; here they are any, and reactive values look constant.
      '@typescript-eslint/no-unsafe-argument': 'off',
      '@typescript-eslint/no-unsafe-assignment': 'off',
      '@typescript-eslint/no-unsafe-call': 'off',
      '@typescript-eslint/no-unsafe-member-access': 'off',
      '@typescript-eslint/no-unsafe-return': 'off',
      '@typescript-eslint/restrict-plus-operands': 'off',
      '@typescript-eslint/restrict-template-expressions': 'off',
      '@typescript-eslint/no-unnecessary-condition': 'off',
    },
  },
  {
    // Tests and tools read JSON and other programs' answers, which have no types; a wrong guess fails when they run.
    files: ['tests/**', '.ci/**', '*.config.*'],
    rules: {
      // Reference figures stand as printed, with more digits than a number may hold.
      'no-loss-of-precision': 'off',
      '@typescript-eslint/no-dynamic-delete': 'off',
      '@typescript-eslint/no-unsafe-argument': 'off',
      '@typescript-eslint/no-unsafe-assignment': 'off',
      '@typescript-eslint/no-unsafe-call': 'off',
      '@typescript-eslint/no-unsafe-member-access': 'off',
      '@typescript-eslint/no-unsafe-return': 'off',
    },
  },
);
