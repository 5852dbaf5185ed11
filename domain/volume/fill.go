package volume

import (
	"fmt"
	"slices"

	"brae/domain"
	"brae/domain/intensity"
)

// NoLimit as [FillInput.Vigorous] leaves vigorous minutes to the ceiling alone.
const NoLimit = weekMinutes

// FillInput is what is known when asking what would fill the rest of a week.
type FillInput struct {
	ShortBy    int             // minutes of the target that are left, from [Target.ShortBy]
	Light      bool            // light minutes count towards it, as in [Target]
	Ceiling    intensity.Class // the hardest class allowed now
	Vigorous   int             // vigorous minutes that the plan leaves open this week; 0 is none, [NoLimit] all
	DaysLeft   int             // days left of the week, today included: 1 to 7
	Favourites []Favourite     // what the client likes to do, the dearest first
}

// Favourite is something that a client often does.
type Favourite struct {
	Activity string // a code of package activity, or whatever the caller knows it by
	Class    intensity.Class
	Minutes  int // usual length of a session; 0 if not known
}

// Option is one way to fill the rest of a week.
type Option struct {
	Items  []Item
	Counts int // minutes that it adds to what is done of the target
	Leaves int // minutes still short after it: not 0 only if no way fills the week
}

// Item is some sessions of an option, of the same kind, each on its own day.
type Item struct {
	Activity string // from the favourite; empty if any activity of the class will do
	Class    intensity.Class
	Sessions int
	Minutes  int // of each session
}

// Fill returns ways to fill what is left of a week's target, within the ceiling
// and the days left, with at most one session a day and none over an hour:
// moderate work for each favourite, vigorous work where it is open, and a mix.
// It returns none if nothing is left to do, or if nothing up to the ceiling
// counts towards the target. If the days are too few, it returns the one way
// that comes nearest and says what it leaves. The error is a [domain.Problems].
//
// Source: paga2018.
// Practice rule: practice.
func Fill(in FillInput, p Policy) ([]Option, error) {
	if err := in.check(); err != nil {
		return nil, err
	}
	if in.ShortBy == 0 {
		return nil, nil
	}
	classes := []intensity.Class{intensity.Moderate, intensity.Vigorous}
	if in.Light {
		classes = []intensity.Class{intensity.Light, intensity.Moderate}
	}
	var options []Option
	for _, class := range classes {
		for _, f := range in.favourites(class) {
			options = in.append(options, in.of(f, in.ShortBy, in.DaysLeft, p))
		}
	}
	options = in.append(options, in.mix(p)...)
	return fullOrNearest(options), nil
}

func (in FillInput) check() error {
	var problems domain.Problems
	if in.ShortBy < 0 {
		problems.Add("short_by", "What is left to do is never below zero.")
	}
	if in.DaysLeft < 1 || in.DaysLeft > 7 {
		problems.Add("days_left", "A week has 1 to 7 days left.")
	}
	if in.Vigorous < 0 {
		problems.Add("vigorous", "Vigorous minutes are never below zero.")
	}
	for i, f := range in.Favourites {
		if f.Minutes < 0 {
			problems.Add(fmt.Sprintf("favourites[%d].minutes", i), "Minutes are never below zero.")
		}
	}
	return problems.Err()
}

// favourites returns what the client likes of a class, or one nameless activity
// if that is nothing, or none if the class is above the ceiling.
func (in FillInput) favourites(class intensity.Class) []Favourite {
	if class > in.Ceiling {
		return nil
	}
	var of []Favourite
	for _, f := range in.Favourites {
		if f.Class == class {
			of = append(of, f)
		}
	}
	if of == nil {
		return []Favourite{{Class: class}}
	}
	return of
}

// worth is how many minutes of the target a minute of the class fills.
func (in FillInput) worth(class intensity.Class) int {
	if class == intensity.Vigorous && !in.Light {
		return VigorousWorth
	}
	return 1
}

// of returns the fewest sessions of a favourite, none longer than usual, that
// fill short minutes of the target within the days; longer ones if the days are
// too few for that. It returns no sessions if not even one is open.
func (in FillInput) of(f Favourite, short, days int, p Policy) Item {
	var (
		need  = ceil(short, in.worth(f.Class))
		most  = max(p.FillMost, f.Minutes)
		usual = f.Minutes
	)
	if usual == 0 {
		usual = p.FillUsual
	}
	item := Item{Activity: f.Activity, Class: f.Class}
	item.Sessions = min(ceil(need, usual), days)
	item.Minutes = min(p.FillRound*ceil(ceil(need, item.Sessions), p.FillRound), most)
	if f.Class == intensity.Vigorous && item.Sessions*item.Minutes > in.Vigorous {
		item.Sessions = min(item.Sessions, in.Vigorous/p.FillRound)
		if item.Sessions > 0 {
			item.Minutes = in.Vigorous / item.Sessions / p.FillRound * p.FillRound
		}
	}
	return item
}

// mix returns vigorous sessions for about half of what is left, and moderate
// ones for the rest. It returns nothing if vigorous work is not open, or if
// there is only one day for both.
func (in FillInput) mix(p Policy) []Item {
	vigorous := in.favourites(intensity.Vigorous)
	if in.Light || vigorous == nil || in.DaysLeft < 2 {
		return nil
	}
	hard := in.of(vigorous[0], ceil(in.ShortBy, 2), in.DaysLeft/2, p)
	rest := in.ShortBy - in.counts(hard)
	if hard.Sessions == 0 || rest <= 0 {
		return nil
	}
	return []Item{hard, in.of(in.favourites(intensity.Moderate)[0], rest, in.DaysLeft-hard.Sessions, p)}
}

func (in FillInput) counts(items ...Item) (minutes int) {
	for _, i := range items {
		minutes += i.Sessions * i.Minutes * in.worth(i.Class)
	}
	return minutes
}

// append adds the option that items make up, if there is anything to do in it.
func (in FillInput) append(options []Option, items ...Item) []Option {
	counts := in.counts(items...)
	if counts == 0 {
		return options
	}
	return append(options, Option{Items: items, Counts: counts, Leaves: ShortBy(in.ShortBy, counts)})
}

// fullOrNearest drops the options that leave something, unless all do: then it
// keeps the first of those that leave least.
func fullOrNearest(options []Option) []Option {
	if len(options) == 0 {
		return nil
	}
	nearest := slices.MinFunc(options, func(a, b Option) int { return a.Leaves - b.Leaves })
	if nearest.Leaves > 0 {
		return []Option{nearest}
	}
	return slices.DeleteFunc(options, func(o Option) bool { return o.Leaves > 0 })
}

func ceil(n, by int) int { return (n + by - 1) / by }
