import './shell.ts';
import { keepPageOffline } from './offline/register.ts';

keepPageOffline();
