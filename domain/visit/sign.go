package visit

// SignGroup is where on the form a sign is found.
type SignGroup string

// Groups of signs. The first four unfold under their look.
const (
	SignAnimals SignGroup = "animals"
	SignPlants  SignGroup = "plants"
	SignAlgae   SignGroup = "algae"
	SignGear    SignGroup = "gear"
	SignWater   SignGroup = "water"
	SignRoom    SignGroup = "room" // the room and the people in it
	SignOwner   SignGroup = "owner"
	SignHistory SignGroup = "history"
)

// SignGroups in the order of the form.
var SignGroups = []struct {
	ID    SignGroup
	Title string
}{
	{SignAnimals, "Animals"}, {SignPlants, "Plants"}, {SignAlgae, "Algae"}, {SignGear, "Gear"},
	{SignWater, "Water"}, {SignRoom, "Room and people"}, {SignOwner, "What the owner asks"}, {SignHistory, "What happened"},
}

// On is the thing that shows the sign.
type On string

// What a sign is seen on.
const (
	OnAnimal      On = "animal"
	OnPlant       On = "plant"
	OnOldLeaves   On = "old_leaves"
	OnYoungLeaves On = "young_leaves"
	OnAnyLeaf     On = "any_leaf"
	OnTips        On = "tips"
	OnRoots       On = "roots"
	OnAlgae       On = "algae"
	OnGear        On = "gear"
	OnWater       On = "water"
	OnRoom        On = "room"
	OnPerson      On = "person"
	OnOwner       On = "owner"
	OnHistory     On = "history"
)

// SignDef is one thing that can be seen at a tank.
type SignDef struct {
	ID    string
	Group SignGroup
	On    On
	Title string
}

var signs = joinSigns(signsOfAnimals, signsOfPlants, signsOfAlgae, signsOfGear, signsOfWater, signsOfRoom, signsOfOwner, signsOfHistory)

func joinSigns(parts ...[]SignDef) []SignDef {
	var all []SignDef
	for _, p := range parts {
		all = append(all, p...)
	}
	return all
}

var signByID = func() map[string]*SignDef {
	m := make(map[string]*SignDef, len(signs))
	for i := range signs {
		m[signs[i].ID] = &signs[i]
	}
	return m
}()

// Signs lists all signs in the order of the form. The caller must not change
// the slice.
func Signs() []SignDef { return signs }

// SignsIn lists the signs of a group in the order of the form.
func SignsIn(g SignGroup) []SignDef {
	var out []SignDef
	for _, s := range signs {
		if s.Group == g {
			out = append(out, s)
		}
	}
	return out
}

// SignOf describes a sign.
func SignOf(id string) (SignDef, bool) {
	s, ok := signByID[id]
	if !ok {
		return SignDef{}, false
	}
	return *s, true
}

// SignTitle is the sign's short title, or its id where nobody knows it.
func SignTitle(id string) string {
	if s, ok := signByID[id]; ok {
		return s.Title
	}
	return id
}
