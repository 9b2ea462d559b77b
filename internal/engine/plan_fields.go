//go:build !small

package engine

// A PlannedField is a field of a boundary that is to be planned, and a name for its folder.
type PlannedField struct{ Name, Folder string }

// Fields are those of the boundary, each with a folder of its own.
func (q PlanRequest) Fields() (fields []PlannedField, err error) {
	ground, err := Outlines(q.Boundary, q.NameProperty, q.Inner)
	if err != nil {
		return nil, err
	}
	folder := diskNames()
	for _, f := range ground.Fields {
		fields = append(fields, PlannedField{f.Name, folder(f.Name)})
	}
	return fields, nil
}

// Folders are names of folders for the mapped fields, by their names: those of a walk of
// each, which lie together on any disk.
func (m *MapOutcome) Folders() map[string]string {
	all, folder := map[string]string{}, diskNames()
	for _, f := range m.Result.Fields {
		all[f.Name] = folder(f.Name)
	}
	return all
}
