package staff_test

import (
	"strings"
	"testing"

	"scaperound/domain/fault"
	"scaperound/domain/staff"
)

func TestTechnicianMayNotEditWhatBelongsToTheOwner(t *testing.T) {
	for _, act := range []staff.Act{staff.EditProfiles, staff.ManagePeople, staff.ManageLinks, staff.EditPrices, staff.EditShop} {
		if staff.Technician.May(act) {
			t.Errorf("a technician may %s", act)
		}
		if !staff.Owner.May(act) {
			t.Errorf("an owner may not %s", act)
		}
		if staff.Role("").May(act) || staff.Role("guest").May(act) {
			t.Errorf("an unknown role may %s", act)
		}
	}
	if !staff.Technician.May(staff.SeeTanks) || !staff.Technician.May(staff.RecordVisits) {
		t.Error("a technician must see tanks and record visits")
	}
	if staff.Role("").May(staff.SeeTanks) {
		t.Error("an unknown role sees tanks")
	}
}

func TestDraftReportsEveryFaultAtOnce(t *testing.T) {
	_, fs := staff.Draft{Name: "  ", Email: "nowhere", Role: "boss"}.Check()
	var got []string
	for _, f := range fs {
		got = append(got, f.Name+":"+f.Kind)
	}
	if want := "name:missing email:impossible role:choice"; strings.Join(got, " ") != want {
		t.Errorf("faults = %v, want %s", got, want)
	}
	d, fs := staff.Draft{Name: "  Ilo   Vance ", Email: " ilo@fernweir.example ", Role: staff.Technician}.Check()
	if len(fs) != 0 || d.Name != "Ilo Vance" || d.Email != "ilo@fernweir.example" {
		t.Errorf("draft = %+v, faults %v", d, fs)
	}
}

func TestEmail(t *testing.T) {
	for email, kind := range map[string]string{
		"ilo@fernweir.example":             "",
		"":                                 fault.Missing,
		"ilo":                              fault.Impossible,
		"@fernweir.example":                fault.Impossible,
		"ilo@fernweir":                     fault.Impossible,
		"ilo@.example":                     fault.Impossible,
		"ilo vance@fernweir.example":       fault.Impossible,
		"ilo@bea@fernweir.example":         fault.Impossible,
		strings.Repeat("a", 260) + "@b.cc": fault.TooLong,
	} {
		var fs fault.Fields
		staff.CheckEmail(&fs, "email", email)
		got := ""
		if len(fs) > 0 {
			got = fs[0].Kind
		}
		if got != kind {
			t.Errorf("%.30q: %q, want %q", email, got, kind)
		}
	}
}

func TestPassword(t *testing.T) {
	for password, kind := range map[string]string{
		"moss on the weir":        "",
		"größer fährt":            "",
		"":                        fault.Missing,
		"too short":               fault.Impossible,
		"aaaaaaaaaaaa":            fault.Impossible,
		"Maren Tolland":           fault.Impossible,
		"maren@fernweir.example":  fault.Impossible,
		strings.Repeat("ab", 129): fault.TooLong,
	} {
		var fs fault.Fields
		staff.CheckPassword(&fs, "password", password, "Maren Tolland", "Maren@Fernweir.example")
		got := ""
		if len(fs) > 0 {
			got = fs[0].Kind
		}
		if got != kind {
			t.Errorf("%.30q: %q, want %q", password, got, kind)
		}
	}
}
