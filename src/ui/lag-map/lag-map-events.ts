import type { LightPathSettings, PlayAim } from '../../workers/play.api.ts';
import type { FormValues } from './plan-form.ts';

/** A cell's shot, as the bench can play it. */
export interface OpenedShot {
  /** Id of the program. */
  readonly strategy: string;
  /** With the delay as its pure-delay stage, and the phases that this shot has drawn. */
  readonly lightPath: LightPathSettings;
  readonly aim: PlayAim;
  /** Number of the shot in its cell, counted from 1, and when its trigger is pulled, ms after power-on. */
  readonly shot: number;
  readonly atMs: number;
  /** The scenario of this shot alone, as JSON text: with it the bench plays the very same one. */
  readonly scenario: string;
}

/** Somebody wants to see the shot of a cell. */
export class OpenShotEvent extends Event {
  readonly detail: OpenedShot;

  constructor(detail: OpenedShot) {
    super('open-shot', { bubbles: true, composed: true });
    this.detail = detail;
  }
}

/** The form was changed. */
export class FormEvent extends Event {
  readonly values: FormValues;

  constructor(values: FormValues) {
    super('form-values');
    this.values = values;
  }
}

/** The shot of this cell of the map was asked for. */
export class ChooseCellEvent extends Event {
  readonly row: number;
  readonly column: number;

  constructor(row: number, column: number) {
    super('choose-cell');
    this.row = row;
    this.column = column;
  }
}
