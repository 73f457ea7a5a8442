package say

// wordsCare are the words of lists and plans.
var wordsCare = map[string]string{
	"rank.people": "people", "rank.animals": "animals", "rank.plants": "plants", "rank.looks": "looks", "rank.convenience": "convenience",
	"system.light": "light", "system.co2": "CO2", "system.nutrients": "nutrients", "system.water": "water", "system.filter": "filter and flow",
	"system.animals": "animals", "system.plants": "plants and algae", "system.gear": "gear and safety",
	"watch.light": "the light", "watch.co2": "the CO2", "watch.nutrients": "what the plants are fed", "watch.water": "the water",
	"watch.filter": "the filter", "watch.animals": "the animals", "watch.plants": "the plants", "watch.gear": "the equipment", "watch.tank": "the tank",
	"salt.gypsum": "gypsum", "salt.epsom": "Epsom salt", "salt.khco3": "potassium bicarbonate", "salt.kno3": "potassium nitrate",
	"salt.kh2po4": "potassium phosphate", "salt.k2so4": "potassium sulphate", "salt.nacl": "common salt", "salt.cacl2": "calcium chloride",
	"water": "water", "ro": "RO water", "no3": "NO3", "po4": "PO4", "k": "K", "mg": "Mg", "ca": "Ca", "fe": "Fe", "gh": "GH", "kh": "KH", "ph": "pH", "tan": "ammonia", "no2": "nitrite", "temp": "temperature",
	"bring.air_pump": "air pump and stone", "bring.clean_bottle": "clean half-litre bottle and label", "bring.kit_tan_no2": "kits for ammonia and nitrite",
	"bring.kit_kh": "KH kit", "bring.dechlorinator": "dechlorinator", "bring.hose": "hose and cans", "bring.thermometer": "thermometer", "bring.scale": "scale",
	"bring.full_cylinder": "full cylinder", "bring.spanner": "spanner and new washer", "bring.strap": "strap and bracket", "bring.carbon": "activated carbon in a bag",
	"bring.own_net": "wet bag for this tank alone", "bring.mature_media": "mature media, kept wet", "bring.drip_line": "drip line", "bring.ro_water": "RO water",
	"bring.scissors": "scissors", "bring.tweezers": "tweezers", "bring.fresh_kit": "fresh kit of another lot", "bring.calibration_solution": "calibration solutions",
	"bring.measuring_cylinder": "measuring cylinder", "bring.ppfd_meter": "PAR meter",
	"caution.dry_hands": "dry hands, dry floor", "caution.breaker_first": "the breaker, not the plug in the wet", "caution.no_gas_breathed": "not one breath of the gas",
	"caution.licensed_trade": "fixed wiring is for a licensed electrician", "caution.heater_off_first": "heater off before the level drops, its lamp seen at the end",
	"caution.unplug_filter": "pull the filter's plug first", "caution.unplug_heater": "pull the heater's plug and let it cool", "caution.ventilate_room": "air the room",
	"caution.cylinder_upright": "cylinder upright and strapped, cap on in the car", "caution.vet_decides": "medicine and dose are the vet's",
	"caution.clean_tank_only": "media from a tank without disease only", "caution.dissolve_first": "dissolve first, pour in slowly",
	"caution.salt_gets_hot": "gets hot in water: salt into water", "caution.tank_water_only": "tank water only, never the tap",
	"caution.only_as_a_bundle": "never as a step by itself", "caution.oxidiser": "oxidiser: away from anything that burns",
	"leave.filter_running": "filter primed and running", "leave.heater_plugged": "heater plugged in, lamp seen", "leave.timers_right": "CO2 and light on their timers, clocks right",
	"leave.valves_no_drip": "valves open, no drip", "leave.tap_shut": "tap shut, hose out", "leave.level_and_lid": "level and lid", "leave.floor_dry": "floor dry", "leave.key": "key",
	"hold.death": "a death", "hold.leak": "a leak", "hold.damage": "damage",
}
