package vocabulary

// SpanishForms and SpanishThings are the tables of Spanish, for tests.
var (
	SpanishForms  = spanishForms
	SpanishThings = spanishThings
	SpanishPests  = spanishPests
)
