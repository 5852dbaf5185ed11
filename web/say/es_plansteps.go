package say

import "golang.org/x/text/language"

var _ = translate(language.Spanish, map[string]string{
	"Go for the harder end of this.": "Busca la parte más exigente de esto.",
})
