package demoshop

// place is a customer with one site; most customers have just one.
type place struct {
	customer, kind string
	phone          string
	site           string // what the shop calls it
	street         string
	lat, lon       float64
	parking        int // minutes
	stairs         string
	windows        []window
	hardWater      bool // the old well supply on Copper Hill
	noAlarm        bool // CO2 in a room without an alarm
	access, alarm  string
	note           string
}

type window struct{ from, to, fromMinute, toMinute int } // weekdays, 1 is Monday; minutes of the day

var (
	shopHours = []window{{1, 5, 8*60 + 30, 17 * 60}}
	mornings  = []window{{1, 5, 7*60 + 30, 11 * 60}}
	office    = []window{{1, 5, 8 * 60, 18 * 60}}
	evenings  = []window{{1, 5, 15 * 60, 20 * 60}}
)

// places are the customers of Fernweir Aquascapes in and around Alderbrook.
// Phone numbers are of the range that no exchange gives out.
var places = []place{
	{customer: "Cora Lindqvist-Hale", kind: "home", phone: "+353 1 555 0101", site: "the house with the green gate", street: "14 Weaver's Row, Millrace", lat: 53.4102, lon: -6.3311, parking: 2, windows: evenings, access: "Ring twice, the dog is deaf."},
	{customer: "The Alder Table", kind: "restaurant", phone: "+353 1 555 0102", site: "the café with the big wood", street: "2 Bridge Street, Millrace", lat: 53.4118, lon: -6.3287, parking: 6, stairs: "nine steps down to the cellar", windows: mornings, noAlarm: true, access: "Back door, ask for the kitchen.", alarm: "4471", note: "Three tanks: bar, passage, cellar. Before eleven only."},
	{customer: "Halloran Dental", kind: "office", phone: "+353 1 555 0103", site: "the dentist", street: "Market Square 7, Saltgate", lat: 53.4043, lon: -6.3179, parking: 5, windows: office},
	{customer: "Ned Tarrant", kind: "home", phone: "+353 1 555 0104", site: "Tarrant's conservatory", street: "31 Orchard Way, Northfield", lat: 53.4271, lon: -6.3402, parking: 1, windows: shopHours, hardWater: true, note: "Has a well of his own. Tops up every evening with the watering can."},
	{customer: "Saltgate Library", kind: "office", phone: "+353 1 555 0105", site: "the reading room", street: "1 Quay Parade, Saltgate", lat: 53.4011, lon: -6.3133, parking: 8, stairs: "lift at the loading bay", windows: office},
	{customer: "Priya and Sam Dunmore", kind: "home", phone: "+353 1 555 0106", site: "Dunmores, top floor", street: "8 Tannery Court, Millrace", lat: 53.4127, lon: -6.3262, parking: 4, stairs: "four floors, no lift", windows: evenings},
	{customer: "Bellwether Insurance", kind: "office", phone: "+353 1 555 0107", site: "reception, Bellwether House", street: "Canal Gate 20, Saltgate", lat: 53.4029, lon: -6.3211, parking: 10, windows: office, alarm: "9083", access: "Badge at the desk; the night guard has it."},
	{customer: "Oona Fitzmaurice", kind: "home", phone: "+353 1 555 0108", site: "the shrimp room", street: "Hollow Lane 3, Copper Hill", lat: 53.4189, lon: -6.3508, parking: 1, windows: evenings, hardWater: true, note: "Breeds soft-water shrimp; owns two osmosis units."},
	{customer: "Copper Hill Surgery", kind: "office", phone: "+353 1 555 0109", site: "the waiting room", street: "Hill Road 55, Copper Hill", lat: 53.4203, lon: -6.3477, parking: 3, windows: office, hardWater: true},
	{customer: "Piet Aldous", kind: "home", phone: "+353 1 555 0110", site: "Aldous, the long tank", street: "2 Kiln Close, Copper Hill", lat: 53.4213, lon: -6.3529, parking: 2, windows: evenings, hardWater: true},
	{customer: "Rowan House Hotel", kind: "restaurant", phone: "+353 1 555 0111", site: "the hotel lobby", street: "Station Road 1, Northfield", lat: 53.4249, lon: -6.3359, parking: 5, windows: []window{{1, 5, 8 * 60, 13 * 60}}, note: "Two tanks in the lobby, one in the breakfast room."},
	{customer: "Tomas Whelan-Brandt", kind: "home", phone: "+353 1 555 0112", site: "Whelan's study", street: "19 Fennel Street, Northfield", lat: 53.4288, lon: -6.3371, parking: 1, windows: evenings},
	{customer: "Greta Mulqueen", kind: "home", phone: "+353 1 555 0113", site: "Mulqueen, ground floor", street: "5 Osier Walk, Millrace", lat: 53.4095, lon: -6.3337, parking: 3, windows: shopHours, note: "Feeds with love."},
	{customer: "Northfield Primary School", kind: "office", phone: "+353 1 555 0114", site: "the school hall", street: "School Lane, Northfield", lat: 53.4301, lon: -6.3344, parking: 2, windows: []window{{1, 5, 14*60 + 30, 17 * 60}}, note: "Holidays: nobody feeds."},
	{customer: "Osteria Lume", kind: "restaurant", phone: "+353 1 555 0115", site: "the osteria", street: "Rope Alley 4, Saltgate", lat: 53.4036, lon: -6.3152, parking: 9, windows: mornings, noAlarm: true},
	{customer: "Dervla Costigan", kind: "home", phone: "+353 1 555 0116", site: "Costigan's kitchen", street: "12 Weir View, Millrace", lat: 53.4109, lon: -6.3354, parking: 1, windows: evenings},
	{customer: "Hartnell and Rye Solicitors", kind: "office", phone: "+353 1 555 0117", site: "the boardroom", street: "Market Square 11, Saltgate", lat: 53.4047, lon: -6.3185, parking: 6, windows: office},
	{customer: "Anselm Brody", kind: "home", phone: "+353 1 555 0118", site: "Brody, the cube", street: "40 Orchard Way, Northfield", lat: 53.4277, lon: -6.3413, parking: 1, windows: evenings},
	{customer: "The Heron Barge", kind: "restaurant", phone: "+353 1 555 0119", site: "the barge", street: "Lower Quay, Saltgate", lat: 53.3998, lon: -6.3118, parking: 7, stairs: "gangplank, slippery when wet", windows: mornings},
	{customer: "Yusra Benali-Kerr", kind: "home", phone: "+353 1 555 0120", site: "Benali-Kerr", street: "6 Fuller's Green, Millrace", lat: 53.4131, lon: -6.3303, parking: 2, windows: evenings},
	{customer: "Alder Physio", kind: "office", phone: "+353 1 555 0121", site: "the physio", street: "Bridge Street 30, Millrace", lat: 53.4121, lon: -6.3266, parking: 4, windows: office},
	{customer: "Maud and Finbar Quill", kind: "home", phone: "+353 1 555 0122", site: "the Quills' new tank", street: "1 Larch Terrace, Copper Hill", lat: 53.4178, lon: -6.3463, parking: 1, windows: shopHours, hardWater: true},
	{customer: "Bright Harbour Care Home", kind: "office", phone: "+353 1 555 0123", site: "the day room", street: "Harbour Road 9, Saltgate", lat: 53.4005, lon: -6.3166, parking: 3, windows: shopHours, note: "Whoever is on shift feeds. The key hangs in the office."},
	{customer: "Lorcan Eyre", kind: "home", phone: "+353 1 555 0124", site: "Eyre's attic", street: "27 Fennel Street, Northfield", lat: 53.4291, lon: -6.3379, parking: 2, stairs: "steep attic stairs", windows: evenings},
}
