import { type Browser, chromium, type Page } from 'playwright';
import { type PreviewServer, preview } from 'vite';
import { findTool } from '../needs.ts';

/** The page as built (dist), under a sub-path, in headless Chromium. */
export interface BuiltPage {
  readonly page: Page;
  /** What the browser complained about: console, content policy, failed or foreign requests. */
  readonly problems: readonly string[];
  close(): Promise<void>;
}

export interface View {
  readonly width?: number;
  readonly height?: number;
  readonly colorScheme?: 'dark' | 'light';
}

export async function openBuiltPage({
  width = 1100,
  height = 800,
  colorScheme = 'dark',
}: View = {}): Promise<BuiltPage> {
  const server: PreviewServer = await preview({
    configFile: false,
    appType: 'mpa',
    base: '/some/folder/',
    build: { outDir: 'dist' },
    preview: { port: 0 },
    logLevel: 'silent',
  });
  const browser: Browser = await chromium.launch({ executablePath: findTool('chromium')!, args: ['--no-sandbox'] });
  const page = await browser.newPage({ viewport: { width, height }, colorScheme });
  const problems: string[] = [];
  const origin = new URL(server.resolvedUrls!.local[0]!).origin;
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') problems.push(message.text());
  });
  page.on('pageerror', (error) => problems.push(error.message));
  page.on('response', (response) => {
    if (response.status() >= 400) problems.push(`${response.status()} ${response.url()}`);
  });
  page.on('request', (request) => {
    if (!request.url().startsWith(origin) && !/^(data|blob):/.test(request.url()))
      problems.push(`asks ${request.url()}`);
  });
  await page.goto(server.resolvedUrls!.local[0]!);
  return {
    page,
    problems,
    close: async () => {
      await browser.close();
      await server.close();
    },
  };
}
