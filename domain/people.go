package domain

// Role says what an account is for.
type Role string

// The three roles that sign in. A doctor has no account.
const (
	RoleClient       Role = "client"
	RolePractitioner Role = "practitioner"
	RoleLead         Role = "lead"
)

// Staff reports whether the role belongs to the practice.
func (r Role) Staff() bool { return r == RolePractitioner || r == RoleLead }
