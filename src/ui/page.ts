import './shell.ts';
