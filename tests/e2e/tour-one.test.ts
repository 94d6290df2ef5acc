import { tourOfScreens } from './support/tour.ts';

tourOfScreens(0);
