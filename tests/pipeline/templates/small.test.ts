import { provenOn } from '../../support/templates.ts';

provenOn('small');
