package wire

import (
	"crypto/sha256"
	"encoding/hex"

	"scaperound/domain/care"
)

// Hash names an assessment's document, so that a tablet can say which one its
// technician acted on.
func Hash(a care.Assessment) string {
	sum := sha256.Sum256(EncodeAssessment(a))
	return hex.EncodeToString(sum[:8])
}
