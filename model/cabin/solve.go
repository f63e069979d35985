package cabin

// solve replaces b by the solution x of matrix x = b, n by n, destroying the
// matrix: Gaussian elimination with row pivoting. The numerical library has
// dense real solvers only, and pivoting is needed: a single tile can be near
// its own resonance with the cavity although the whole set is not. A row of
// zeros (which no lossy system has) leaves zero rather than dividing by it.
func solve(matrix, b []complex128, n int) {
	for col := range n {
		pivot, largest := col, 0.0
		for i := col; i < n; i++ {
			if s := size1(matrix[i*n+col]); s > largest {
				pivot, largest = i, s
			}
		}
		if largest == 0 {
			continue
		}
		if pivot != col {
			for j := col; j < n; j++ {
				matrix[col*n+j], matrix[pivot*n+j] = matrix[pivot*n+j], matrix[col*n+j]
			}
			b[col], b[pivot] = b[pivot], b[col]
		}
		top := matrix[col*n+col:][:n-col]
		inverse := 1 / top[0]
		for i := col + 1; i < n; i++ {
			row := matrix[i*n+col:][:n-col]
			f := row[0] * inverse
			if f == 0 {
				continue
			}
			for j := 1; j < len(top); j++ {
				row[j] -= f * top[j]
			}
			b[i] -= f * b[col]
		}
	}
	for i := n - 1; i >= 0; i-- {
		sum := b[i]
		for j := i + 1; j < n; j++ {
			sum -= matrix[i*n+j] * b[j]
		}
		if matrix[i*n+i] == 0 {
			b[i] = 0
			continue
		}
		b[i] = sum / matrix[i*n+i]
	}
}

// size1 is a cheap size for choosing pivots.
func size1(z complex128) float64 { return max(abs(real(z)), abs(imag(z))) }

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}

// dot is the plain product of two vectors, nothing conjugated: transfer is
// reciprocal, not Hermitian.
func dot(a, b []complex128) complex128 {
	var sum complex128
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}
