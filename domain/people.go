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

// Sex is female or male where an equation or a norm was made for one of them. An
// empty Sex was not said: what does not need it is used then, or both are shown.
type Sex string

// The sexes that equations and norms tell apart.
const (
	Female Sex = "female"
	Male   Sex = "male"
)

// Valid reports whether it is a sex, or not said.
func (s Sex) Valid() bool { return s == "" || s == Female || s == Male }

// Signature is how somebody signs: "Name, title (registration)", without what is empty.
func Signature(name, title, registration string) string {
	if title != "" {
		name += ", " + title
	}
	if registration != "" {
		name += " (" + registration + ")"
	}
	return name
}
