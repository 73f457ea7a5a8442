package care

// rules in the order in which they are asked: people, animals, water, gear,
// light and plants, then what is due.
var rules = []Rule{
	ruleRoomCO2, ruleElectric, ruleLeak, ruleCylinderFixed, ruleLeaveList,
	ruleBreath, ruleCO2High, ruleNH3, ruleTAN, ruleNitrite, ruleKHGone, ruleOxygen, ruleChlorine, ruleCopper, ruleBiocide, rulePesticide, ruleRoomSpray,
	ruleDeath, ruleDistress, ruleQuietSigns, ruleFarOut, ruleDisease, ruleTemperature, ruleHeater, ruleTempShock, ruleGas, ruleNewcomers, rulePHJump, ruleMoult, ruleShells, ruleHunger, ruleMissing,
	ruleFilterStopped, ruleBiofilterLost, ruleStartUp, ruleSoil, ruleYoungFilter, ruleDoubt, ruleUnits, ruleNO3High, ruleAheadNitrate, ruleNeglect, ruleOldSoil, ruleOverload, ruleSource, ruleSoftener,
	ruleHardening, ruleHardness, ruleAheadKH, ruleSaltsChange, ruleCylinder, ruleAheadCylinder, ruleTimer, ruleCO2Low, ruleCO2Unsteady, ruleLight, ruleSun, ruleFlow, ruleFilterDue, ruleAheadFilter, ruleOrganics,
	ruleNitrogen, rulePhosphorus, rulePotassium, ruleMagnesium, ruleCalcium, ruleIron, ruleTrace, rulePotassiumExcess, ruleAheadNutrients, ruleDoser, ruleWrongDose,
	ruleAlgaeBrown, ruleAlgaeGreen, ruleAlgaeTufts, ruleAlgaeBlue, ruleAcclimation, ruleSenescence, ruleGrazing, rulePearling, ruleAllWell, ruleAsked,
}
