import { type Browser, chromium, type Page } from 'playwright';
import { type PreviewServer, preview } from 'vite';
import { findTool } from '../needs.ts';

/** The page as built (dist), under a sub-path, in headless Chromium. */
export interface BuiltPage {
  readonly page: Page;
  /** What the browser complained about: console, content policy, failed or foreign requests. */
  readonly problems: readonly string[];
  /** Nothing answers any more where the page came from. */
  stopServing(): Promise<void>;
  close(): Promise<void>;
}

export interface View {
  readonly width?: number;
  readonly height?: number;
  readonly colorScheme?: 'dark' | 'light';
  /** A finger instead of a mouse. */
  readonly isTouched?: boolean;
  /** The folder of the built page. */
  readonly folder?: string;
}

export async function openBuiltPage({
  width = 1100,
  height = 800,
  colorScheme = 'dark',
  isTouched = false,
  folder = 'dist',
}: View = {}): Promise<BuiltPage> {
  const server: PreviewServer = await preview({
    configFile: false,
    appType: 'mpa',
    base: '/some/folder/',
    build: { outDir: folder },
    preview: { port: 0 },
    logLevel: 'silent',
  });
  const browser: Browser = await chromium.launch({ executablePath: findTool('chromium')!, args: ['--no-sandbox'] });
  const context = await browser.newContext({
    viewport: { width, height },
    colorScheme,
    hasTouch: isTouched,
    isMobile: isTouched,
  });
  const page = await context.newPage();
  const problems: string[] = [];
  const origin = new URL(server.resolvedUrls!.local[0]!).origin;
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') problems.push(message.text());
  });
  page.on('pageerror', (error) => problems.push(error.message));
  page.on('response', (response) => {
    if (response.status() >= 400) problems.push(`${response.status()} ${response.url()}`);
  });
  // Of the context: the service worker's own requests, too.
  context.on('request', (request) => {
    if (!request.url().startsWith(origin) && !/^(data|blob):/.test(request.url()))
      problems.push(`asks ${request.url()}`);
  });
  await page.goto(server.resolvedUrls!.local[0]!);
  return {
    page,
    problems,
    stopServing: () => server.close(),
    close: async () => {
      await browser.close();
      await server.close();
    },
  };
}
