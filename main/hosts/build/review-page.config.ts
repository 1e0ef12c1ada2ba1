import { join } from 'node:path'
import react from '@vitejs/plugin-react'
import { defineConfig } from 'vite'

const ROOT = join(import.meta.dirname, '../../..')

/** Builds script and style of the page that lies in review packs: one file each, beside the window. */
export default defineConfig({
  root: join(ROOT, 'renderer/review-page'),
  plugins: [react()],
  // The same page whoever builds it, tests included.
  define: { 'process.env.NODE_ENV': '"production"' },
  esbuild: { jsxDev: false },
  build: {
    outDir: join(ROOT, 'out/window'),
    emptyOutDir: false,
    copyPublicDir: false,
    target: 'es2022',
    lib: {
      entry: join(ROOT, 'renderer/review-page/main.tsx'),
      name: 'reviewPage',
      formats: ['iife'],
      fileName: () => 'review-page.js',
      cssFileName: 'review-page',
    },
  },
})
