package store_test

import (
	"testing"

	"scaperound/domain/customer"
)

func TestIncidentStaysAtTheSite(t *testing.T) {
	p := newPlaces(t)
	s := p.site(p.customer("Nora Quill"), "The mill", "", "")
	if _, err := p.RecordIncident(t.Context(), p.tech, customer.Incident{Site: s, NoticedAt: p.Now(), What: "a bowed seam", Told: "nobody yet"}); err != nil {
		t.Fatal(err)
	}
	list, err := p.SiteIncidents(t.Context(), s)
	if err != nil || len(list) != 1 || list[0].What != "a bowed seam" || list[0].Staff != "Ilo Vance" || list[0].Tank != "" {
		t.Errorf("%+v, %v", list, err)
	}
}
