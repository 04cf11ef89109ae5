/** What no finding and no topic looks at, said once wherever a verdict is. */
export const NOT_CHECKED = "Not checked, so never passed: the watts, volts and amperes that each part must stand, and the excursion of the drivers.";
