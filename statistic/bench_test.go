package statistic

import "testing"

func benchDifferences(n int) []float64 {
	d := make([]float64, n)
	for i := range d {
		d[i] = float64((i*7919)%101) - 40.5
	}
	return d
}

func BenchmarkSignedRankExact(b *testing.B) {
	d := benchDifferences(50)
	for b.Loop() {
		if _, err := SignedRank(d); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRankSumExact(b *testing.B) {
	x, y := benchDifferences(30), benchDifferences(30)
	for b.Loop() {
		if _, err := RankSum(x, y); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMannKendall(b *testing.B) {
	p := make([]Point, 0, 365)
	for i, y := range benchDifferences(365) {
		p = append(p, Point{float64(i), y})
	}
	for b.Loop() {
		if _, err := MannKendall(p); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSenSlope(b *testing.B) {
	p := make([]Point, 0, 120)
	for i, y := range benchDifferences(120) {
		p = append(p, Point{float64(i), y})
	}
	for b.Loop() {
		if _, err := SenSlope(p, 0.95); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkToleranceFactor(b *testing.B) {
	for b.Loop() {
		if _, err := ToleranceFactor(8, 0.95, 0.95); err != nil {
			b.Fatal(err)
		}
	}
}
