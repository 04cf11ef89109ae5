import fc from "fast-check";

// One failing case is enough: nobody reads which is the smallest.
fc.configureGlobal({ ...fc.readConfigureGlobal(), endOnFailure: true });
