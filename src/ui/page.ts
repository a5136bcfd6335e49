import './play-bench.ts';
