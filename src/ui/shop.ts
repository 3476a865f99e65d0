/** The page's one store, and how components look at it. */
import { useStore } from 'zustand';
import type { Actions, Workshop } from './state/contract.ts';
import { createWorkshop } from './state/workshop.ts';
import { browserServices } from './workers/services.ts';

export const services = browserServices();
/** What a first visitor finds on the bench. */
const FIRST = 'stair-baluster';
const first = services.templates.get(FIRST) ?? [...services.templates.values()][0];

export const shop = createWorkshop(services, first === undefined ? undefined : JSON.parse(first));

/** A slice of the state; the component is drawn again when that slice changes. */
export const useShop = <T>(pick: (state: Workshop & Actions) => T): T => useStore(shop, pick);

/** The actions; they never change, so no component waits for them. */
export const actions: Actions = shop.getState();
