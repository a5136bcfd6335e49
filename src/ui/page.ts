import './shot-form.ts';
