import type { SerializedError } from 'vitest';
import type { Reporter, TestCase, TestModule } from 'vitest/node';

/**
 * Prints the ten slowest tests and, as the last line, `N passed, N failed, N skipped`.
 * A file that does not load and an error outside a test count as failures.
 */
export default class ClosingLineReporter implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], unhandled: readonly SerializedError[]): void {
    const count = { passed: 0, failed: unhandled.length, skipped: 0 };
    const timed: { ms: number; name: string }[] = [];
    for (const module of modules) {
      if (module.state() === 'failed' && module.children.size === 0) count.failed++;
      for (const test of module.children.allTests()) {
        const { state } = test.result();
        count[state === 'pending' ? 'skipped' : state]++;
        timed.push({ ms: test.diagnostic()?.duration ?? 0, name: this.#nameOf(test, module) });
      }
    }
    timed.sort((a, b) => b.ms - a.ms);
    process.once('exit', () => {
      console.log('\nthe ten slowest tests');
      for (const { ms, name } of timed.slice(0, 10)) console.log(`${(ms / 1000).toFixed(1).padStart(7)} s  ${name}`);
      console.log(`${count.passed} passed, ${count.failed} failed, ${count.skipped} skipped`);
    });
  }

  #nameOf(test: TestCase, module: TestModule): string {
    return `${module.relativeModuleId}: ${test.fullName}`;
  }
}
