// Package rehab works out shock disinfection and well rehabilitation: volumes,
// chlorine, pH, contact, purge and disposal, with the order of the work, who may
// do it and what can hurt.
//
// Shock disinfection cleans; it does not mend a cap, a casing or a pit, and it
// takes no iron out of the aquifer. Local code and the licensed well contractor
// come before anything here.
package rehab
