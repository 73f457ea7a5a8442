// Package chem is the chemistry of fresh water: the CO2 system, ammonia,
// nitrite, oxygen, hardness, conductivity and the masses behind them.
//
// One file holds one published relation, with the equation, its units, its
// range and its source. Functions return an Invalid fault outside the range in
// which the relation holds; they never return NaN or an infinity, except that
// the open end of an interval is ±Inf as in quantity.Interval.
//
// "°d" is the German degree (10 mg/L CaO), log is to base ten. Thermodynamic
// constants are on the activity scale, in mol/L or mol/kg of water at 1 atm;
// in fresh water the two differ by less than 0.5 %.
package chem
